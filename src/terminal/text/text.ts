// Text of any origin into text that is safe and fits: cleaned of controls, measured in cells, clipped, padded.
import { eastAsianWidth } from 'get-east-asian-width'
import { escapeControls } from '../../core/text/escape-controls.ts'

// Code points of no width of their own, or of a width on which terminals differ: they would shift what is beside them.
const unsteady = /^(?:\p{C}|[\u115f\u1160\u3164\uffa0]|(?![©®])\p{Extended_Pictographic}|\p{Regional_Indicator})$/u
const combining = /\p{M}/u
/** Printable ASCII and the lines, blocks and braille of the pictures: a cell a character, told at once. */
const plainText = /^[\x20-\x7e\u2500-\u259f\u2800-\u28ff]*$/

/** `text` on one line, controls shown as escapes, code points of unsteady width as `?`; white space of any kind and length is one space. */
export function cleanText(text: string): string {
  const flat = escapeControls(text.replace(/\s+/g, ' ').trim()).normalize('NFC')
  return [...flat].map((char) => (unsteady.test(char) ? '?' : char)).join('')
}

function cellsOf(char: string): number {
  if (char < '\u0300') return 1
  return combining.test(char) ? 0 : eastAsianWidth(char.codePointAt(0)!)
}

/** Cells that a terminal gives to `text`, which is clean already. */
export function textWidth(text: string): number {
  if (plainText.test(text)) return text.length
  let width = 0
  for (const char of text) width += cellsOf(char)
  return width
}

/** `text` cut to `width` cells; where something was cut the last cell is `…`. Width 0 or less gives an empty text. */
export function clipText(text: string, width: number): string {
  if (width <= 0) return ''
  if (textWidth(text) <= width) return text
  let cells = 0
  let kept = ''
  for (const char of text) {
    cells += cellsOf(char)
    if (cells > width - 1) break
    kept += char
  }
  return `${kept}…`
}

/** `text` clipped and filled up with spaces to exactly `width` cells, at its end or (`right`) at its start. */
export function padText(text: string, width: number, side: 'left' | 'right' = 'left'): string {
  const clipped = clipText(text, width)
  const fill = ' '.repeat(Math.max(0, width - textWidth(clipped)))
  return side === 'left' ? clipped + fill : fill + clipped
}

/** `text` in rows of at most `width` cells, broken between words; a word that is longer, such as a path, stays whole. No width: one row. */
export function wrapWords(text: string, width: number): string[] {
  if (!(width > 0) || textWidth(text) <= width) return [text]
  const rows = ['']
  for (const word of text.split(/(?<= )/)) {
    const row = rows.at(-1)!
    if (row !== '' && textWidth(row) + textWidth(word.trimEnd()) > width) rows.push(word)
    else rows[rows.length - 1] = row + word
  }
  return rows.map((row) => row.trimEnd())
}
