// The state of the contact into a large word: in a filled block while the switch is actuated, in a frame while it is at rest.

import { bigScale, bigText } from '../text/big-text.ts'
import { type Line, line, span } from '../text/line.ts'
import { clipText, padText, textWidth } from '../text/text.ts'
import { contactWords, positionWord } from '../text/words.ts'
import type { Layout, Rect } from './layout.ts'
import type { Shown } from './shown.ts'

/** The block with the word, and below it the state in a sentence with the resistance. */
export function contactLines({ live }: Shown, rect: Rect, layout: Layout): Line[] {
  const words = contactWords[live?.contact ?? 'unknown']
  const actuated = live?.actuated ?? null
  // Where the panel is low the word has no frame; the fill alone still tells the two states apart.
  const framed = rect.height >= 6
  const inside = framed
    ? { width: rect.width - 2, height: rect.height - 3 }
    : { width: rect.width, height: rect.height - 1 }
  // A word in very large letters would say no more: one size below the digits.
  const scale = bigScale(words.big, inside.width - 2, inside.height, Math.max(1, layout.scale - 1))
  const picture = scale > 0 ? bigText(words.big, scale) : [words.big]
  const above = Math.floor((inside.height - picture.length) / 2)
  const rows = Array.from({ length: inside.height }, (_, row) => centre(picture[row - above] ?? '', inside.width))
  const tone = actuated ? 'filled' : actuated === null ? 'dim' : 'plain'
  const block = framed ? frame(rows, inside.width, actuated === true) : rows
  const ohm = live?.ohm == null ? '' : `  ${ohmText(live.ohm)}`
  const caption: Line = [span(` ${positionWord(actuated)}`, 'strong'), span(ohm), span(`  ${words.full}`, 'dim')]
  return [...block.map((r) => line(r, tone)), caption]
}

/** Ohms with about three digits, and the words of an ohmmeter for what has no number. */
export function ohmText(ohm: number): string {
  if (Number.isNaN(ohm)) return 'no ohm reading'
  if (!Number.isFinite(ohm)) return '∞ ohm'
  if (Math.abs(ohm) >= 1e6) return `${(ohm / 1e6).toFixed(2)} Mohm`
  if (Math.abs(ohm) >= 1e3) return `${(ohm / 1e3).toFixed(2)} kohm`
  return `${ohm.toFixed(Math.abs(ohm) >= 100 ? 0 : 2)} ohm`
}

function centre(text: string, width: number): string {
  const clipped = clipText(text, width)
  return padText(' '.repeat(Math.floor((width - textWidth(clipped)) / 2)) + clipped, width)
}

function frame(rows: string[], width: number, filled: boolean): string[] {
  if (filled) return [' '.repeat(width + 2), ...rows.map((r) => ` ${r} `), ' '.repeat(width + 2)]
  return [`╭${'─'.repeat(width)}╮`, ...rows.map((r) => `│${r}│`), `╰${'─'.repeat(width)}╯`]
}
