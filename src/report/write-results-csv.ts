// Judged recordings into two tables for a spreadsheet: a row for each recording, and one for each of its strokes.
import type { Decimal } from '../core/model/paper-forms.ts'
import { type Cell, csvTable } from './csv-table.ts'
import { outsideText } from './model/outside-text.ts'
import type { ReportInput } from './model/report-input.ts'
import { decidesLimits, stampOf } from './model/standing.ts'

export type ResultTables = { results: string; cycles: string }

const quantities = ['make', 'break', 'differential'] as const
const limitNames = ['make', 'break', 'differential', 'first-make', 'first-break', 'contact'] as const

/** Pressures in pascal. `standing`: what is written across the report of it; empty for a whole pass and a whole fail of a real part. */
export function writeResultsCsv(inputs: readonly ReportInput[], decimal: Decimal): ResultTables {
  const names = [
    ...['recording', 'model', 'serial', 'lot', 'tested', 'number', 'issued', 'verdict', 'standing', 'unit'],
    ...quantities.flatMap((name) => [
      `${name}_Pa`,
      `${name}_U_Pa`,
      `${name}_k`,
      `${name}_n`,
      `${name}_lower_Pa`,
      `${name}_higher_Pa`,
    ]),
    ...['first_make_Pa', 'first_break_Pa', 'contact_median_ohm', 'contact_max_ohm', 'strokes', 'made', 'released'],
    ...limitNames.flatMap((name) => [`${name}_outcome`, `${name}_conforms`].map((each) => each.replace('-', '_'))),
    ...['temperature_C', 'attitude', 'customer', 'order', 'sha256', 'id'],
  ]
  return {
    results: csvTable(names, inputs.map(resultRow), decimal),
    cycles: csvTable(
      [
        'recording',
        'serial',
        'stroke',
        'make_Pa',
        'make_rate_Pa_per_s',
        'break_Pa',
        'break_rate_Pa_per_s',
        'counts',
        'why',
      ],
      inputs.flatMap(cycleRows),
      decimal,
    ),
  }
}

function resultRow(input: ReportInput): Cell[] {
  const { analysis, result, file, number, issued, sha256 } = input
  const { part, at, job, conditions, id } = analysis.setup.start
  const decides = decidesLimits(result)
  const outcomes = limitNames.flatMap((name): Cell[] => {
    const limit = result.limits.find((each) => each.name === name)
    return limit && decides ? [limit.outcome, limit.conformance] : [null, null]
  })
  return [
    ...[outsideText(file), outsideText(part.model), outsideText(part.serial), outsideText(part.lot), at, number],
    ...[issued?.slice(0, 10) ?? null, result.verdict, stampOf(input), analysis.setup.rating.unit],
    ...quantities.flatMap((name): Cell[] => {
      const { valuePa, UPa, k, n, allowLowPa, allowHighPa } = result[name]
      return [valuePa, UPa, k, n, allowLowPa, allowHighPa]
    }),
    ...[result.firstStroke.makePa, result.firstStroke.breakPa, result.contact.medianOhm, result.contact.maxOhm],
    ...[result.acted.strokes, result.acted.made, result.acted.released],
    ...outcomes,
    ...[conditions?.temperatureC ?? null, outsideText(conditions?.attitude)],
    ...[outsideText(job?.customer), outsideText(job?.order), sha256, outsideText(id)],
  ]
}

const cycleRows = ({ analysis, result, file }: ReportInput): Cell[][] =>
  result.cycles.map((cycle) => [
    ...[outsideText(file), outsideText(analysis.setup.start.part.serial), cycle.stroke],
    ...[cycle.makePa, cycle.makeRatePaPerS, cycle.breakPa, cycle.breakRatePaPerS],
    ...[cycle.used ? 'yes' : 'no', cycle.why ?? null],
  ])
