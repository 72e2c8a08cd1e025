// The result of an ended run into a whole screen: the verdict in large letters, the reason, the numbers, what to do next; then findings, pictures, cycles.

import type { Result } from '../../core/model/result.ts'
import { bigHeight, bigScale, bigText } from '../text/big-text.ts'
import { bareText, type Line, line, lineWidth, span, wrapLine } from '../text/line.ts'
import { narrowNumbers, nextAfter, signatureRows, verdictRows } from '../text/verdict-lines.ts'
import { verdictWords } from '../text/words.ts'
import { bandLines } from './band-panel.ts'
import { keyLine } from './key-line.ts'
import { type Layout, loopRows, numberColumns } from './layout.ts'
import { loopLines } from './loop-panel.ts'
import { panelMakers } from './panels.ts'
import type { Shown } from './shown.ts'
import { traceLines } from './trace-panel.ts'

/** Findings have rows kept for them before the letters and their rules take what they like. */
const findingRows = 4
/** Fewer columns than these show no picture beside the numbers. */
const leastBeside = 100
/** Fewer rows than these show no picture. */
const leastPicture = 8

/**
 * Rows of the whole screen. Reason and next step stand whole wherever there are rows for them: rules, gaps and the size
 * of the letters give way first. Findings and cycles that do not fit are counted instead of shown.
 */
export function verdictScreen(shown: Shown, result: Result, layout: Layout): Line[] {
  const { width, height } = layout.all
  const inner = width - 2
  const grounds = shown.live ?? {}
  const rows = verdictRows(result, shown.part, grounds)
  const indent = (lines: readonly Line[]) => lines.map((l): Line => [span(' '), ...l])
  const wrapped = (l: Line, most = height) => indent(wrapLine(l, inner, most))
  const reason = wrapped([{ ...rows.reason, tone: 'strong' }])
  const next = wrapped([span('Next: ', 'accent'), span(nextAfter(result.verdict, shown.simulated, grounds))])
  const allowed = rows.allowed.flatMap((l) => wrapped(l))
  const full = indent(narrowNumbers(rows.numbers, inner))
  const numbers = [...full, ...allowed]
  const few = [...full.slice(0, 3), ...allowed, ...wrapped(oneLine(rows.numbers.slice(3)))]
  const told = rows.findings.map((f) => wrapped(f, 3))

  // Header and keys have a row each.
  const room = height - 2
  const forms = formsOf(result, layout, width)
  const need = ({ big, gaps, terse }: Form) =>
    big.length + 2 * gaps + reason.length + (terse ? few : numbers).length + next.length
  const most = Math.min(findingRows, told.flat().length)
  const fits = (kept: number) => forms.find((form) => need(form) + kept <= room)
  const form = fits(most) ?? fits(Math.min(1, most)) ?? fits(0) ?? forms.at(-1)!
  const gap = Array.from({ length: form.gaps }, () => line(''))
  const top = [...form.big, ...reason, ...gap, ...(form.terse ? few : numbers), ...gap, ...next]

  const left = room - top.length
  const before = told.length > 0 && left > told.flat().length ? gap : []
  const findings = [...before, ...fitFindings(told, left - before.length)]
  // Before pictures and cycles, behind all that the verdict rests on.
  const signed = signatureRows(grounds).flatMap((l) => wrapped(l))
  const body = [...top, ...findings]
  if (signed.length > 0 && room - body.length >= signed.length) body.push(...signed)
  body.push(...lowerLines(shown, layout, room - body.length))
  const shownRows = body.slice(0, room)
  const rest = Array.from({ length: Math.max(0, room - shownRows.length) }, () => line(''))
  return [...panelMakers.header(shown, layout.all, layout), ...shownRows, ...rest, keyLine(shown, width)]
}

/** The rows of the word, the rows between two paragraphs, and whether the numbers that matter less share rows. */
type Form = { big: Line[]; gaps: 0 | 1; terse: boolean }

/** The word from its largest form to its smallest: with rules and gaps, without rules, without gaps, with terse numbers, a row of its own. */
function formsOf({ verdict }: Result, { scale: most }: Layout, width: number): Form[] {
  const { word, sign, tone } = verdictWords[verdict]
  const rule = line(` ${'━'.repeat(width - 2)}`, tone)
  const forms: Form[] = []
  for (let scale = bigScale(word, width - 2, bigHeight(most), most); scale >= 1; scale--) {
    const big = bigText(word, scale).map((row) => line(` ${row}`, tone))
    forms.push({ big: [rule, ...big, rule], gaps: 1, terse: false }, { big, gaps: 1, terse: false })
    forms.push({ big, gaps: 0, terse: false }, { big, gaps: 0, terse: true })
  }
  const small: Line[] = [[span(' '), span(` ${sign} ${word} `, 'bar')]]
  return [...forms, { big: small, gaps: 0, terse: false }, { big: small, gaps: 0, terse: true }]
}

/** Rows of numbers in one: name, value and outcome of each. */
function oneLine(rows: readonly Line[]): Line {
  const texts = rows.map((row) => {
    const [name, value] = row.map((s) => s.text.trim())
    return `${name} ${value} ${bareText(row.slice(-1))}`
  })
  return line(texts.join(', '))
}

/** What else is known, as far as `rows` rows hold it: trace, loop and bands beside the cycles, or the cycles alone. */
function lowerLines(shown: Shown, layout: Layout, rows: number): Line[] {
  const inner = layout.all.width - 2
  const cyclesIn = (width: number, height: number) =>
    panelMakers.cycles(shown, { x: 0, y: 0, width, height }, layout).slice(0, height)
  if (rows < 4) return []
  const height = rows - 1
  if (inner < leastBeside || height < leastPicture) {
    return [line(''), ...cyclesIn(inner, height).map((l): Line => [span(' '), ...l])]
  }
  const right = inner - numberColumns >= 40 ? numberColumns : 48
  const rect = { x: 0, y: 0, width: inner - right - 1, height }
  const loop = height >= leastPicture + loopRows ? loopLines(shown, { ...rect, height: loopRows }) : []
  const pictures = [...traceLines(shown, { ...rect, height: height - loop.length }, layout), ...loop]
  const bands = bandLines(shown, { ...rect, width: right })
  const numbers = [...bands, ...cyclesIn(right, height - bands.length)]
  return [line(''), ...pictures.map((l, i) => [...padLine(l, rect.width + 1), ...(numbers[i] ?? [])])]
}

function padLine(spans: Line, width: number): Line {
  return [...spans, span(' '.repeat(Math.max(0, width - lineWidth(spans))))]
}

/** Whole findings only; the last row counts those left out. */
function fitFindings(findings: Line[][], rows: number): Line[] {
  const kept: Line[] = []
  for (const [i, lines] of findings.entries()) {
    const others = findings.length - i
    if (kept.length + lines.length + (others > 1 ? 1 : 0) > rows) {
      const count = ` ${others} ${i > 0 ? 'more ' : ''}${others === 1 ? 'finding' : 'findings'} in the recording`
      return [...kept, line(count, 'warn')].slice(0, Math.max(0, rows))
    }
    kept.push(...lines)
  }
  return kept
}
