// Kick-dated trips into the lag of the hose between tee and switch: what still depends on the rate once the kick has dated them.
import { criteria } from '../../criteria.table.ts'
import { fitCommonSlope } from '../../statistics/common-slope.ts'
import { studentQuantile } from '../../statistics/student.ts'
import type { LagEstimate, QuantityFit, SessionFit } from '../fit.ts'
import type { TripInput, TripValue } from '../trip-moment.ts'

/** The hose's lag by M(r) = M0 + rL, B(r) = B0 − rL over counted trips; null where the rates do not show any. */
export function hoseLag(trips: readonly TripInput[], values: readonly TripValue[]): LagEstimate | null {
  const group = (transition: 'make' | 'break', sign: number) => {
    const own = values.filter((_, i) => trips[i]!.counted && trips[i]!.transition === transition)
    return { xs: own.map((v) => sign * v.ratePaPerS), ys: own.map((v) => v.valuePa) }
  }
  const groups = [group('make', 1), group('break', -1)]
  const paces = groups.map(({ xs }) => xs.map(Math.abs)).filter((rates) => rates.length > 1)
  // Trips at one pace tell nothing: their slope is noise over noise.
  if (!paces.some((rates) => Math.max(...rates) > criteria.hoseRateRatio * Math.min(...rates))) return null
  const lines = fitCommonSlope(groups)
  if (!lines || lines.slope < criteria.hoseS) return null
  if (lines.slope < studentQuantile(criteria.hoseProbability, lines.dof) * lines.uSlope) return null
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
    if (point === null || own.length <= 1) return point
    const mean = own.reduce((sum, v) => sum + v.valuePa, 0) / own.length
    const rate = own.reduce((sum, v) => sum + v.ratePaPerS, 0) / own.length
    // One degree of freedom went into the common slope.
    const dof = own.length - 2
    const sigmaPa = Math.sqrt(own.reduce((sum, v) => sum + (v.valuePa - mean) ** 2, 0) / (own.length - 1))
    return {
      ...point,
      valuePa: mean,
      sigmaPa,
      scatterU: sigmaPa / Math.sqrt(own.length),
      scatterDof: Math.max(1, dof),
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
