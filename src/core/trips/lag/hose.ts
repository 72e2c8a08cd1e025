// Kick-dated trips into the lag of the hose between tee and switch: what still depends on the rate once the kick has dated them.

import { fitCommonSlope } from '../../statistics/common-slope.ts'
import { studentQuantile } from '../../statistics/student.ts'
import type { LagEstimate, QuantityFit, SessionFit } from '../fit.ts'
import type { TripInput, TripValue } from '../trip-moment.ts'

/** A hose lag smaller than this, or one that chance makes once in ten thousand sessions, is not told apart from none and left in the scatter. */
const leastHoseS = 0.1
const certainty = 0.9999
/** Trips at one pace tell nothing: without a fastest this many times the slowest, a slope is noise over noise. */
const leastPaces = 1.4

/** The hose's lag by M(r) = M0 + rL, B(r) = B0 − rL over counted trips; null where the rates do not show any. */
export function hoseLag(trips: readonly TripInput[], values: readonly TripValue[]): LagEstimate | null {
  const group = (transition: 'make' | 'break', sign: number) => {
    const own = values.filter((_, i) => trips[i]!.counted && trips[i]!.transition === transition)
    return { xs: own.map((v) => sign * v.ratePaPerS), ys: own.map((v) => v.valuePa) }
  }
  const groups = [group('make', 1), group('break', -1)]
  const paces = groups.map(({ xs }) => xs.map(Math.abs)).filter((rates) => rates.length > 1)
  if (!paces.some((rates) => Math.max(...rates) > leastPaces * Math.min(...rates))) return null
  const lines = fitCommonSlope(groups)
  if (!lines || lines.slope < leastHoseS) return null
  if (lines.slope < studentQuantile(certainty, lines.dof) * lines.uSlope) return null
  return { valueS: lines.slope, uS: lines.uSlope }
}

/** The fit with the hose's lag taken off every trip and its uncertainty put into the lag's share. */
export function freeOfHose(fit: SessionFit, trips: readonly TripInput[], hose: LagEstimate): SessionFit {
  const values = fit.values.map((v, i): TripValue => {
    const shiftPa = (trips[i]!.transition === 'make' ? 1 : -1) * hose.valueS * v.ratePaPerS
    return { ...v, valuePa: v.valuePa - shiftPa, loPa: v.loPa - shiftPa, hiPa: v.hiPa - shiftPa }
  })
  const refit = (point: QuantityFit | null, transition: 'make' | 'break'): QuantityFit | null => {
    const own = values.filter((_, i) => trips[i]!.counted && trips[i]!.transition === transition)
    if (point === null || own.length < 2) return point
    const mean = own.reduce((sum, v) => sum + v.valuePa, 0) / own.length
    const rate = own.reduce((sum, v) => sum + v.ratePaPerS, 0) / own.length
    const sigmaPa = Math.sqrt(own.reduce((sum, v) => sum + (v.valuePa - mean) ** 2, 0) / (own.length - 1))
    return {
      ...point,
      valuePa: mean,
      sigmaPa,
      scatterU: sigmaPa / Math.sqrt(own.length),
      // One degree of freedom went into the common slope.
      scatterDof: Math.max(1, own.length - 2),
      lagU: Math.hypot(point.lagU, rate * hose.uS),
    }
  }
  const rates = values.filter((_, i) => trips[i]!.counted).map((v) => v.ratePaPerS)
  const meanRate = rates.reduce((a, b) => a + b, 0) / Math.max(1, rates.length)
  return {
    ...fit,
    lag: { valueS: fit.lag.valueS + hose.valueS, uS: Math.hypot(fit.lag.uS, hose.uS) },
    make: refit(fit.make, 'make'),
    break: refit(fit.break, 'break'),
    differentialLagU: Math.hypot(fit.differentialLagU, 2 * meanRate * hose.uS),
    values,
  }
}
