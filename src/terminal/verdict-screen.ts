// The result of an ended run into a whole screen: the verdict in large letters, the reason, the numbers, findings, what to do next, the cycles.
import type { Result } from '../core/result.ts'
import { bigScale, bigText } from './big-text.ts'
import { keyLine } from './key-line.ts'
import type { Layout } from './layout.ts'
import { type Line, line, span, wrapLine } from './line.ts'
import { panelMakers } from './panels.ts'
import { narrowNumbers, nextAfter, verdictRows } from './verdict-lines.ts'
import type { Shown } from './view.ts'
import { verdictWords } from './words.ts'

/** Rows of the whole screen; findings and cycles that do not fit are counted instead of shown. */
export function verdictScreen(shown: Shown, result: Result, layout: Layout): Line[] {
  const { width, height } = layout.all
  const { word, tone } = verdictWords[result.verdict]
  const rows = verdictRows(result, shown.part, shown.live ?? {})
  const inner = width - 2
  const scale = bigScale(word, inner, Math.floor(height / 3), layout.scale)
  const rule = line(` ${'━'.repeat(width - 2)}`, tone)
  const indent = (lines: Line[]) => lines.map((l): Line => [span(' '), ...l])
  const wrapped = (l: Line, most: number) => indent(wrapLine(l, inner, most))

  const big = [rule, ...indent((scale > 0 ? bigText(word, scale) : [word]).map((row) => line(row, tone))), rule]
  const reason = wrapped([{ ...rows.reason, tone: 'strong' }], 3)
  const numbers = indent(narrowNumbers(rows.numbers, inner))
  const next = wrapped(
    [span('Next: ', 'accent'), span(nextAfter(result.verdict, shown.simulated, shown.live ?? {}))],
    3,
  )
  const space = line('')

  const top = [...panelMakers.header(shown, layout.all, layout), ...big, ...reason, space, ...numbers, space, ...next]
  const room = height - 1 - top.length
  const gap = room > 2 ? [space] : []
  const told = rows.findings.map((f) => wrapped(f, 3))
  const findings = told.length === 0 ? [] : [...gap, ...fitFindings(told, room - gap.length)]
  const left = room - findings.length
  const table = { ...layout.all, width: inner, height: left - 1 }
  const cycles = left >= 4 ? [space, ...indent(panelMakers.cycles(shown, table, layout))] : []
  const body = [...top, ...findings, ...cycles].slice(0, height - 1)
  return [...body, ...Array.from({ length: height - 1 - body.length }, () => space), keyLine(shown, width)]
}

// Whole findings only; the number of those left out stands in the last row.
function fitFindings(findings: Line[][], rows: number): Line[] {
  const kept: Line[] = []
  for (const [i, lines] of findings.entries()) {
    const others = findings.length - i
    if (kept.length + lines.length + (others > 1 ? 1 : 0) > rows)
      return [...kept, line(` ${others} ${i > 0 ? 'more ' : ''}findings in the recording`, 'warn')].slice(
        0,
        Math.max(0, rows),
      )
    kept.push(...lines)
  }
  return kept
}
