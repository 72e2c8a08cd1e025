// The result of an ended run into a whole screen: the verdict in large letters, the reason, the numbers, findings, what to do next, the cycles.
import type { Result } from '../core/result.ts'
import { bigScale, bigText } from './big-text.ts'
import { keyLine } from './key-line.ts'
import type { Layout } from './layout.ts'
import { type Line, line, span, spread, wrapLine } from './line.ts'
import { panelMakers } from './panels.ts'
import { narrowNumbers, nextAfter, verdictRows } from './verdict-lines.ts'
import type { Shown } from './view.ts'
import { verdictWords } from './words.ts'

/** Rows of the whole screen; findings and cycles that do not fit are counted instead of shown. */
export function verdictScreen(shown: Shown, result: Result, layout: Layout): Line[] {
  const { width, height } = layout.all
  const { word, tone } = verdictWords[result.verdict]
  const rows = verdictRows(result, shown.part)
  const inner = width - 2
  const scale = bigScale(word, inner, Math.floor(height / 3), layout.scale)
  const rule = line(` ${'━'.repeat(width - 2)}`, tone)
  const indent = (lines: Line[]) => lines.map((l): Line => [span(' '), ...l])
  const wrapped = (l: Line, most: number) => indent(wrapLine(l, inner, most))

  const head = [...panelMakers.header(shown, { x: 0, y: 0, width, height: 1 }, layout)]
  const big = [rule, ...indent((scale > 0 ? bigText(word, scale) : [word]).map((row) => line(row, tone))), rule]
  const reason = wrapped(
    rows.reason.map((s) => ({ ...s, tone: 'strong' })),
    3,
  )
  const next = wrapped([span('Next: ', 'accent'), span(nextAfter(result.verdict))], 3)
  const numbers = indent(narrowNumbers(rows.numbers, inner))
  const keys = keyLine(shown, width)
  const space = line('')

  const fixed = [...head, ...big, ...reason, space, ...numbers, space, ...next]
  const room = height - fixed.length - 1
  const findings = fitted(
    rows.findings.map((f) => wrapped(f, 3)),
    room - 1,
  )
  const left = room - findings.length - 2
  const cycles =
    left >= 3 ? [space, ...indent(panelMakers.cycles(shown, { x: 0, y: 0, width: inner, height: left }, layout))] : []
  const body = [
    ...fixed.slice(0, fixed.length - next.length),
    ...next,
    ...(findings.length > 0 ? [space, ...findings] : []),
    ...cycles,
  ]
  const rest = Math.max(0, height - 1 - body.length)
  return [...body.slice(0, height - 1), ...Array.from({ length: rest }, () => space), spread(keys, [], width)]
}

// Whole findings only; the number of those left out stands in the last row.
function fitted(findings: Line[][], rows: number): Line[] {
  const kept: Line[] = []
  for (const [i, lines] of findings.entries()) {
    const more = findings.length - i
    const needed = kept.length + lines.length + (more > 1 ? 1 : 0)
    if (needed > rows) {
      if (rows > kept.length) kept.push(line(`  ${more} more findings in the recording`, 'warn'))
      break
    }
    kept.push(...lines)
  }
  return kept
}
