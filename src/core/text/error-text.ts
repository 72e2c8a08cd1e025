// Whatever was thrown into one line that is safe to show.
import { printable } from './printable.ts'

/** The message of an error, anything else as text. A driver may throw anything, even what has no text. */
export function errorText(thrown: unknown, maxLength = 80): string {
  try {
    return printable(thrown instanceof Error ? thrown.message : String(thrown), maxLength)
  } catch {
    return 'something that has no text'
  }
}
