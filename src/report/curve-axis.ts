// Pressures of a curve into its axes: the part's unit first, pascal beside it.
import { scaleLinear } from 'd3-scale'
import { type PressureUnit, pressureUnits } from '../core/model/units.ts'
import { readingStep, uncertainNumbers } from '../core/text/pressure-text.ts'
import type { Curve } from '../core/view/curve.ts'
import type { Axis } from './plot-sheet.ts'
import { type Frame, wholeFrame } from './plot-style.ts'

/** Lowest and highest of the finite values; from 0 to 1 where there is none. */
export function span(values: Iterable<number | null | undefined>): [number, number] {
  let [low, high] = [Infinity, -Infinity]
  for (const value of values) {
    if (value === null || value === undefined || !Number.isFinite(value)) continue
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  return low > high ? [0, 1] : [low, high]
}

/** All that the pressure axis has to hold, in Pa: readings, trips and the limits that are stated. */
export function pressureSpan(curve: Curve): [number, number] {
  const { make, break: back } = curve.limits
  const limits = [make?.lowPa, make?.highPa, back?.lowPa, back?.highPa]
  const readings = curve.pressure.map((point) => point.pressurePa)
  const [low, high] = span([0, ...readings, ...curve.trips.map((trip) => trip.pressurePa), ...limits])
  const margin = 0.06 * (high - low || 1)
  return [low < 0 ? low - margin : 0, high + margin]
}

/** How a plot is drawn: on which sheet, and in which unit beside the part's. */
export type PlotLook = { frame: Frame; second: PressureUnit }

/** That of a drawing by itself. */
export const usualLook: PlotLook = { frame: wholeFrame, second: 'Pa' }

/** The axis in the part's unit over `range` px, and the same one in the second unit; its scales take values of their own unit. */
export function pressureAxes(
  curve: Curve,
  range: [number, number],
  second: PressureUnit,
  ticks: number,
): { own: Axis; beside: Axis | undefined } {
  const [lowPa, highPa] = pressureSpan(curve)
  const axis = (unit: PressureUnit): Axis => {
    const perUnit = pressureUnits[unit]
    return linearAxis([lowPa / perUnit, highPa / perUnit], range, unit, ticks)
  }
  const own = axis(curve.unit)
  return {
    own: { ...own, label: `pressure difference, ${curve.unit}` },
    beside: curve.unit === second ? undefined : axis(second),
  }
}

/** A straight axis from `domain` to `range` px with about so many round ticks. */
export function linearAxis(domain: [number, number], range: [number, number], label: string, ticks: number): Axis {
  const scale = scaleLinear(domain, range)
  const format = scale.tickFormat(ticks)
  return { scale, label, ticks: scale.ticks(ticks).map((value) => ({ value, text: format(value) })) }
}

/** `curve`'s pressure in its unit. */
export function inUnit(curve: Curve, pressurePa: number): number {
  return pressurePa / pressureUnits[curve.unit]
}

/** The estimate of one kind as the verdict has it, such as `make 0.2510 ± 0.0040 inH2O, n 7`; `no make` where there is none. */
export function describeTrips(curve: Curve, transition: 'make' | 'break'): string {
  const estimate = curve.estimates[transition]
  if (estimate.valuePa === null) return `no ${transition} that counts`
  return `${transition} ${uncertainNumbers(estimate, curve.unit, readingStep(estimate.valuePa))} ${curve.unit}, n ${estimate.n}`
}

/** What it came to, when and on which rig, in one line; that no real part was tested first of all. */
export function describeTest({ verdict, at, rig, simulated }: Curve): string {
  const word = verdict.toUpperCase().replace('-', ' ')
  return [...(simulated ? ['SIMULATED, no real part'] : []), word, at.slice(0, 10), ...(rig === '' ? [] : [rig])].join(
    ' · ',
  )
}
