// The uncertainty budget of a result into a table in plain text: each quantity with its components, then what they make together.
import { criteria } from '../../core/criteria.table.ts'
import { type Part, ratingOf } from '../../core/model/part.ts'
import type { BudgetLine, Estimate, Result } from '../../core/model/result.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import { figuresText } from '../../core/text/figures-text.ts'
import {
  allowanceText,
  noNumber,
  numberText,
  oneUnitText,
  pressureText,
  readingStep,
  unitsShown,
} from '../../core/text/pressure-text.ts'
import { scatterName } from '../../core/text/scatter-name.ts'
import { padText, textWidth } from './text.ts'

const names = ['make', 'break', 'differential'] as const
type Quantity = (typeof names)[number]

/** Columns that are left out where the table has to fit 80 cells: they only say how u follows from the value. */
const wideOnly = ['divisor', 'sensitivity', 'u, Pa']

/**
 * Lines of the table, for each quantity that is known; one line that says so where none was. Part's unit first, Pa second.
 * `narrow`: within 80 cells, without the columns that only lead from the value to u.
 */
export function budgetLines(result: Result, part: Part, narrow = false): string[] {
  const { unit } = ratingOf(part)
  const had = names.filter((name) => result.budget.some((line) => line.quantity === name))
  if (had.length === 0) return ['No budget: no trip that counts.']
  const tables = had.flatMap((name, i) => [
    ...(i === 0 ? [] : ['']),
    `Uncertainty budget of ${name}`,
    ...table(
      result.budget.filter((line) => line.quantity === name),
      unit,
      narrow,
    ),
    combined(result[name], unit, narrow),
    ...singleTrips(result[name], unit),
    ...allowedLines(result, name, part),
  ])
  const told = Object.entries(meanings).filter(([name]) => result.budget.some(({ component }) => component === name))
  const open = had.some((name) => allowedLines(result, name, part).length > 0) ? besideMeanings : []
  return [...tables, '', ...[...told, ...open].map(([name, meaning]) => `  ${padText(name, 14)}  ${meaning}`)]
}

/** What hose and leak may hide beside U; none for what rounds to nothing. */
function allowedLines(result: Result, name: Quantity, part: Part): string[] {
  const { unit, ratedPa } = ratingOf(part)
  const text = allowanceText(result[name], unit, readingStep(ratedPa))
  // A leak moves make and break alike: the differential does not feel it.
  return text === null ? [] : [`  beside U, ${name === 'differential' ? 'hose' : 'hose and leak'}: up to ${text}`]
}

/** What they are, and what makes them smaller. */
const besideMeanings: readonly (readonly [string, string])[] = [
  ['hose', 'a lag of line or display that the paces of the strokes do not rule out;'],
  ['', `strokes ${criteria.briskRatio} times as fast, and a shorter hose, make it smaller`],
  ['leak', 'what a leak at the switch may take that no rest at a peak rules out;'],
  ['', 'a stroke held still at its peak for 10 s makes it smaller'],
]

/** What each component is, in the order of the tables. */
const meanings: Readonly<Record<string, string>> = {
  gauge: 'the accuracy that the rig states of its manometer',
  certificate: 'U of the corrections on its certificate',
  drift: 'what it may have changed since',
  'between-points': 'how far it may bend between the points of the certificate',
  hysteresis: 'what it may show differently on the rise and on the fall',
  zero: 'how far the zero may have moved',
  digit: 'the last digit of the display',
  scatter: 'the switch itself, from trip to trip',
  lag: 'how much later the contact is seen than the pressure',
}

function table(lines: readonly BudgetLine[], unit: PressureUnit, narrow: boolean): string[] {
  const units = unitsShown(unit)
  const head = ['component', 'value', 'distribution', 'divisor', 'sensitivity', ...units.map((as) => `u, ${as}`), 'dof']
  const rows = lines.map((line) => {
    // A pressure is shown in the part's unit; a time stays what it is, with a sensitivity in pressure per second.
    const own = line.unit === 'Pa'
    return [
      line.component,
      line.value === null ? noNumber : own ? oneUnitText(line.value, unit) : `${figures(line.value)} ${line.unit}`,
      line.distribution,
      figures(line.divisor),
      own ? figures(line.sensitivity) : oneUnitText(line.sensitivity, unit, undefined, `/${line.unit}`),
      ...units.map((as) => numberText(line.uPa, as)),
      dofText(line.dof),
    ]
  })
  const kept = head.map((name) => !narrow || !(wideOnly.includes(name) && name !== `u, ${unit}`))
  return align([head, ...rows].map((row) => row.filter((_, i) => kept[i])))
}

function combined({ uPa, UPa, dof, k }: Estimate, unit: PressureUnit, narrow: boolean): string {
  if (uPa === null || UPa === null || k === null)
    return '  together: one trip alone says nothing of the scatter, so u is not known'
  const U = pressureText(UPa, unit)
  if (narrow) return `  together: U ${U}, k ${k.toFixed(2)}, u ${oneUnitText(uPa, unit)}, dof ${dofText(dof)}`
  return `  together: u ${pressureText(uPa, unit)}, dof ${dofText(dof)}, k ${k.toFixed(2)}, U ${U}, two-sided 95 %`
}

/** How far single trips lie apart: by another name where they are too few for a repeatability. */
function singleTrips({ scatterPa, n }: Estimate, unit: PressureUnit): string[] {
  if (scatterPa === null) return []
  return [`  single trips: ${scatterName(n)} ${pressureText(scatterPa, unit, { figures: 2 })}, over ${n} cycles`]
}

/** Three significant figures: enough to add the table up by hand to the two that a result shows. */
const figures = (value: number) => figuresText(value, 3)

const dofText = (dof: number | null) => (dof === null || dof > 9999 ? 'unlimited' : dof.toFixed(dof < 100 ? 1 : 0))

/** Columns side by side, texts to the left, the rest to the right. */
function align(rows: readonly string[][]): string[] {
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((row) => textWidth(row[i]!))))
  return rows.map((row) =>
    `  ${row.map((cell, i) => padText(cell, widths[i]!, i === 0 || i === 2 ? 'left' : 'right')).join('  ')}`.trimEnd(),
  )
}
