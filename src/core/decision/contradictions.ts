// An analysis and the second reader into what of the fit does not fit the raw readings. It only ever adds doubt.
import type { Analysis, JudgedCycle } from '../analyse.ts'
import { criteria } from '../criteria.table.ts'
import type { Contradictions } from '../diagnosis/rule.ts'
import { toArray } from '../model/series.ts'
import { widened } from '../uncertainty/single-trip.ts'
import { type ReadStroke, readAgain, type Span } from './second-reader.ts'
import { readTyped } from './typed-reader.ts'

const transitions = ['make', 'break'] as const

/** The second reader has nothing against the fit. */
export const nothingContradicted: Contradictions = {
  trips: [],
  value: null,
  lagS: null,
  brackets: { make: null, break: null },
}

/** All that lies outside what the raw readings allow; nothing where they tell of too few trips that count. */
export function contradictions({ run, setup, cycles, measured, lag, fit, typed }: Analysis): Contradictions {
  const { rating, rig } = setup
  const { ratedPa, ratedOn } = rating
  const raw = { pressure: run.pressure.part(), contact: run.contact }
  const read = typed
    ? readTyped({ typed: toArray(run.typed), contact: raw.contact }, { ...typed, pair: rig.pair })
    : readAgain(raw, { ratedPa, digitPa: rig.digitPa, pair: rig.pair })
  const readOf = ({ span }: JudgedCycle): ReadStroke | undefined =>
    read.find(({ peakUs }) => peakUs >= span.startUs && peakUs <= span.endUs)
  const used = cycles.filter((c) => c.used).flatMap((c) => readOf(c) ?? [])
  const unionOf = (transition: 'make' | 'break'): Span | null => {
    const spans = used.flatMap((stroke) => stroke[transition] ?? [])
    if (spans.length < criteria.bracketTrips) return null
    return { lowPa: Math.min(...spans.map((s) => s.lowPa)), highPa: Math.max(...spans.map((s) => s.highPa)) }
  }
  const brackets = { make: unionOf('make'), break: unionOf('break') }
  if (brackets[ratedOn] === null) return nothingContradicted

  const trips = cycles
    .filter((c) => c.used || c.role === 'first-stroke')
    .flatMap((cycle) =>
      transitions.flatMap((transition) => {
        const [value, edge] = [cycle[`${transition}Value`], cycle[transition]]
        const bracket = readOf(cycle)?.[transition]
        if (!value || !edge || !bracket || !isOutside(widened(value, measured[transition]), bracket)) return []
        return [{ stroke: cycle.stroke, tUs: edge.hiUs, transition, valuePa: value.valuePa, ...bracket }]
      }),
    )
  // No make lies above all that was ever drawn.
  const drawnPa = Math.max(...used.map(({ peakPa }) => peakPa))
  const values = transitions.flatMap((transition) => {
    const { valuePa, UPa } = measured[transition].estimate
    const bracket = brackets[transition]
    if (valuePa === null || UPa === null || !bracket) return []
    const allowed = transition === 'make' ? { ...bracket, highPa: Math.min(bracket.highPa, drawnPa) } : bracket
    const { lowPa, highPa } = measured[transition].allowance
    const stated = { lowPa: valuePa - UPa - lowPa, highPa: valuePa + UPa + highPa }
    return isOutside(stated, allowed) ? [{ transition, valuePa, ...allowed }] : []
  })
  const openS = criteria.coverageFactor * lag.uS
  const possible = lag.valueS + openS >= -criteria.mostDisplayS && lag.valueS - openS <= criteria.mostLagS
  return { trips, value: values[0] ?? null, lagS: fit === null || possible ? null : lag.valueS, brackets }
}

function isOutside(stated: Span, allowed: Span): boolean {
  return stated.highPa < allowed.lowPa || stated.lowPa > allowed.highPa
}

/** The analysis without the values of the trips that the second reader contradicts: each counts for nothing. */
export function withoutContradicted(analysis: Analysis, { trips }: Contradictions): Analysis {
  if (trips.length === 0) return analysis
  const isOut = (stroke: number, of: string) => trips.some((t) => t.stroke === stroke && t.transition === of)
  const cycles = analysis.cycles.map((c) => ({
    ...c,
    makeValue: isOut(c.stroke, 'make') ? null : c.makeValue,
    breakValue: isOut(c.stroke, 'break') ? null : c.breakValue,
  }))
  return { ...analysis, cycles }
}
