// Lines onto standard output, made safe for a terminal.
import { escapeControls } from '../core/escape-controls.ts'

/** Writes `text` as one line. */
export function print(text: string): void {
  process.stdout.write(`${escapeControls(text)}\n`)
}
