// Text of any origin into text that is safe and fits: cleaned of controls, measured in cells, clipped, padded.
import stringWidth from 'string-width'
import { escapeControls } from '../../core/text/escape-controls.ts'

// Code points of no width of their own, or of a width on which terminals differ: they would shift what stands beside them.
const unsteady = /^(?:\p{C}|\p{Extended_Pictographic}|\p{Regional_Indicator})$/u
/**
 * Letters, arrows, signs of mathematics, lines, blocks and braille that are a cell each: the screens are made of them, and
 * the package that measures takes many times as long.
 */
const plainText = /^[\x20-\x7e\xa1-\xac\xae-\u02ff\u2010-\u2027\u2190-\u22ff\u2500-\u25fc\u2713-\u2718\u2800-\u28ff]*$/
const graphemes = new Intl.Segmenter()

/** `text` on one line, controls shown as escapes, code points of unsteady width as `?`; white space of any kind and length is one space. */
export function cleanText(text: string): string {
  const flat = escapeControls(text.replace(/\s+/g, ' ').trim()).normalize('NFC')
  return [...flat].map((char) => (char > '\u00ff' && unsteady.test(char) ? '?' : char)).join('')
}

/** Cells that a terminal gives to `text`, which is clean already. */
export function textWidth(text: string): number {
  return plainText.test(text) ? text.length : stringWidth(text)
}

/** `text` cut to `width` cells; where something was cut the last cell is `…`. Width 0 or less gives an empty text. */
export function clipText(text: string, width: number): string {
  if (width <= 0) return ''
  if (textWidth(text) <= width) return text
  let cells = 0
  let kept = ''
  for (const { segment } of graphemes.segment(text)) {
    cells += textWidth(segment)
    if (cells > width - 1) break
    kept += segment
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
