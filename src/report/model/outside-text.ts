// A text that somebody typed into one that no page is spoilt by: one line, no controls, of bounded length.
import { escapeControls } from '../../core/text/escape-controls.ts'

/** Longer texts are cut and say how long they were: nobody types as much in a name. */
const mostChars = 160

/** Null where nothing is stated, or blanks alone. */
export function outsideText(text: unknown): string | null {
  if (typeof text !== 'string') return null
  const flat = escapeControls(text.toWellFormed().replace(/\s+/g, ' ').trim()).normalize('NFC')
  const chars = [...flat]
  if (chars.length <= mostChars) return flat || null
  return `${chars.slice(0, mostChars).join('')}… (${chars.length} characters)`
}
