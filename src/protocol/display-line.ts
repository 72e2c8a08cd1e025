// One line as a display shows it (labels, signs, numbers, units, flags) into its values, or the fault that forbids its use.

import type { Fault } from '../core/model/reading.ts'
import { type KnownUnit, knownUnit } from '../core/model/units.ts'
import { printable } from '../core/text/printable.ts'
import { faultOf } from './measured.ts'
import { digitSize, parseNumber } from './number-forms.ts'
import { refusedWord } from './refused-words.ts'

/** A value of a line: `unit` null where none is with it, `foreign` the word there that is not a known unit. */
export type ShownValue = { value: number; digit: number | null; unit: KnownUnit | null; foreign: string | null }

// What displays print instead of a number, and beside it: common practice, no source.
const patterns = {
  gap: /[\s,;:=()[\]|]+/y,
  /** A date or a time of day. */
  stamp: /\d{4}-\d{2}-\d{2}(?:T(?=\d)|(?!\d|[.,]\d))|\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?![\d:]|[.,]\d)/y,
  over: /([+-]?)\s*(?:[O0]\.?L|\.[O0]L|O[VF]L|OVFL|OVLD|OVER[ -]?(?:RANGE|LOAD|FLOW)?|INF(?:INITY)?)\b\.?/iy,
  under: /UNDER[ -]?(?:RANGE|FLOW)?\b/iy,
  dashes: /-{2,}(?:\.-*)?|-\.-+/y,
  number: /[+-]?\s*(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{1,3})?(?![.,]?\d)/y,
  word: /["'A-Za-zΩµ°%][\w"'./^@%Ωµ°]*/y,
} as const
type Pattern = keyof typeof patterns
const order = Object.keys(patterns) as Pattern[]

const errorWords = new Set(['ERR', 'ERROR', 'FAIL', 'FAULT'])
/** Flags that change nothing in the value's meaning. Any other word after the last value makes the line unreadable. */
const harmlessWords = new Set(['AUTO', 'OK', 'STABLE', 'DIFF'])

/** A continuity tester's word for an open circuit: a state that is also an over-range resistance. */
const ohm: KnownUnit = { quantity: 'resistance', unit: 'ohm', factor: 1 }

type Scan = {
  values: ShownValue[]
  /** Units that stand before their value. */
  leading: KnownUnit[]
  /** Words since the last value: labels if a value follows. */
  words: string[]
  /** Whether the last token can take a unit. */
  open: boolean
}

/** Nearly every line: one number and one word behind it. */
const plainLine = /^[ \t]*([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+))[ \t]+([A-Za-zΩµ]\w*)[ \t]*$/

/** The value of a plain line whose word is a unit, which reads the same by the tokens below, at three times the cost; else null. */
function readPlain(line: string): ShownValue | null {
  const [, number = '', word = ''] = plainLine.exec(line) ?? []
  const value = parseNumber(number)
  const unit = value === null ? null : knownUnit(word)
  return value === null || unit === null ? null : { value, digit: digitSize(number), unit, foreign: null }
}

/** The values of one line (never empty), or why it has none. Symbols are already Unicode; `line` has no end. */
export function readDisplay(line: string): { values: ShownValue[] } | { fault: Fault } {
  const plain = readPlain(line)
  return plain === null ? readTokens(line) : { values: [plain] }
}

function readTokens(line: string): { values: ShownValue[] } | { fault: Fault } {
  const shown = printable(line.trim(), 44)
  const unreadable = (why: string) => ({ fault: faultOf('unreadable', `${why}: "${shown}"`) })
  if (/[^\t -~Ωµ°]/.test(line)) return unreadable('bytes that are not text')
  const refused = refusedWord(line)
  if (refused !== null) return { fault: refused }
  const upper = line.toUpperCase().split(/[^A-Z]+/)
  if (upper.some((word) => errorWords.has(word)))
    return { fault: faultOf('device-error', `the instrument reports "${shown}"`) }
  if (upper.includes('SHORT')) return unreadable('a state without a resistance')

  const scan: Scan = { values: [], leading: [], words: [], open: false }
  for (let at = 0; at < line.length; ) {
    const token = nextToken(line, at)
    if (token === null) return unreadable(`no meaning known for "${printable(line.slice(at).trim(), 12)}"`)
    at = take(scan, line, token, at + token.text.length)
  }
  const { values, leading, words } = scan
  const [only] = values
  if (only === undefined) return unreadable('no number')
  if (words.length > 0) return unreadable(`no meaning known for "${printable(words.join(' '), 12)}"`)
  if (leading[0] !== undefined) {
    const clear = values.length === 1 && leading.length === 1 && only.unit === null && only.foreign === null
    if (!clear) return unreadable('not clear which unit goes with which number')
    only.unit = leading[0]
  }
  return { values }
}

type Token = { kind: Pattern; text: string }

function nextToken(line: string, at: number): Token | null {
  for (const kind of order) {
    patterns[kind].lastIndex = at
    const text = patterns[kind].exec(line)?.[0]
    if (text !== undefined) return { kind, text }
  }
  return null
}

/** Takes one token into `scan`; `after` is the place behind it. Gives the place to go on at, for a unit may span words. */
function take(scan: Scan, line: string, { kind, text }: Token, after: number): number {
  if (kind === 'dashes') takeValue(scan, Number.POSITIVE_INFINITY)
  if (kind === 'under') takeValue(scan, Number.NEGATIVE_INFINITY)
  if (kind === 'over') takeValue(scan, text.startsWith('-') ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY)
  // A number before a colon or an equals sign is a label: `1: -0.25`.
  if (kind === 'number' && !/^\s*[:=]/.test(line.slice(after)))
    takeValue(scan, parseNumber(text) ?? Number.NaN, digitSize(text))
  return kind === 'word' ? takeWord(scan, line, text, after) : after
}

function takeValue(scan: Scan, value: number, digit: number | null = null): void {
  scan.values.push({ value, digit, unit: null, foreign: null })
  scan.words = []
  scan.open = true
}

function takeWord(scan: Scan, line: string, text: string, after: number): number {
  const word = text.toUpperCase()
  const last = scan.open ? scan.values.at(-1) : undefined
  const found = unitAt(line, text, after)
  if (found !== null) {
    if (last) last.unit = found.unit
    else scan.leading.push(found.unit)
  } else if (word === 'NAN') takeValue(scan, Number.NaN)
  else if (word === 'OPEN') scan.values.push({ value: Number.POSITIVE_INFINITY, digit: null, unit: ohm, foreign: null })
  else if (harmlessWords.has(word)) return after
  else if (last) last.foreign = text
  else scan.words.push(text)
  scan.open = word === 'NAN'
  return found?.after ?? after
}

/** The unit that begins with the word `text`, at most three words long (`in. W.C.`, `mm H2O`): the longest that is known. */
function unitAt(line: string, text: string, after: number): { unit: KnownUnit; after: number } | null {
  const [, second = '', third = ''] =
    /^(\s+["'A-Za-zΩµ][\w"'.Ω]*)?(\s+["'A-Za-z][\w"'.]*)?/.exec(line.slice(after)) ?? []
  for (const more of [second + third, second, '']) {
    const unit = knownUnit(text + more)
    if (unit !== null) return { unit, after: after + more.length }
  }
  return null
}
