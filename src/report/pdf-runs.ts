// Texts of several looks into rows of a width: words stay whole where they fit, and what follows a text goes on in its row.
import type { Weight } from './font-file.ts'

export type Run = { text: string; weight: Weight; colour: string }

/** A piece of a row, from `x` of its beginning on. */
export type Piece = Run & { x: number }

export type Measure = (weight: Weight, size: number, text: string) => number

/**
 * Rows no wider than `most`, all in points, the first of them from `from` on; a word that is wider is broken between
 * characters. Empty where there is no word.
 */
export function breakRuns(runs: readonly Run[], most: number, size: number, measure: Measure, from = 0): Piece[][] {
  const rows: Piece[][] = []
  let row: Piece[] = []
  let x = from
  const endRow = () => {
    // The first row may have room for nothing: then it is there and empty.
    if (row.length > 0 || x > 0) rows.push(row)
    row = []
    x = 0
  }
  for (const run of runs) {
    const { weight } = run
    const space = measure(weight, size, ' ')
    let open: Piece | null = null
    const add = (word: string, width: number) => {
      if (x > 0 && x + (row.length > 0 ? space : 0) + width > most) {
        endRow()
        open = null
      }
      if (open !== null) {
        open.text += ` ${word}`
        x += space + width
        return
      }
      if (row.length > 0) x += space
      open = { ...run, text: word, x }
      row.push(open)
      x += width
    }
    for (const word of run.text.split(' ')) {
      if (word === '') continue
      const width = measure(weight, size, word)
      if (width <= most) add(word, width)
      else
        for (const part of brokenWord(word, most, (text) => measure(weight, size, text)))
          add(part, measure(weight, size, part))
    }
  }
  if (row.length > 0) endRow()
  return rows
}

/** Scripts that are read from the right, of those that a font of a report may have. */
const fromRight = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Nko}]/u
/** Numbers behind words that are read from the right go on in their direction, as a browser lays them out (UAX #9). */
const number = /^[\p{Nd}.,:/-]*\p{Nd}$/u

/**
 * What is written of a row at once: all of it, and where words are read from the right, each word, as they lie from left
 * to right: those words, and the numbers behind them, the other way round. Within a word the font sees to it.
 * A comma behind them is written by itself, without a space before it.
 */
export function placedWords(text: string): string[] {
  if (!fromRight.test(text)) return [text]
  const placed: string[] = []
  let turned: string[] = []
  for (const whole of text.split(' ')) {
    const [, word = '', stop = ''] = /^(.*?)([,.;:]*)$/u.exec(whole) ?? []
    const turns = fromRight.test(word) || (turned.length > 0 && number.test(word))
    if (turns) turned.unshift(word)
    if (turns && stop === '') continue
    placed.push(...turned, turns ? stop : whole)
    turned = []
  }
  return [...placed, ...turned]
}

function brokenWord(word: string, most: number, widthOf: (text: string) => number): string[] {
  const parts: string[] = []
  let [part, width] = ['', 0]
  for (const char of word) {
    const wide = widthOf(char)
    if (part !== '' && width + wide > most) {
      parts.push(part)
      part = ''
      width = 0
    }
    part += char
    width += wide
  }
  return [...parts, part]
}
