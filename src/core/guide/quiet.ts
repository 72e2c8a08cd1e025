// The newest pressure readings into how long the bench has stood still, vented or at a held pressure.
import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import { isInRange } from '../model/samples.ts'
import type { Setup } from '../model/setup.ts'
import { indexAt } from '../statistics/index-at.ts'

/** Since when the readings have lain within a narrow band near zero, µs; null where the newest is not vented or there is none. */
export function ventedSinceUs(run: Run, { rating, rig }: Setup, assessment: Assessment): number | null {
  const { silenceUs, stillUs } = criteria
  const { of, length } = run.pressure
  const newest = run.pressure.at(-1)
  if (!newest || run.tUs - newest.tUs > silenceUs) return null
  // To either side as far as a reading may lie from the rest of which it makes the zero.
  const noisyPa = 2 * criteria.zeroNoises * (assessment?.analysis.zero.noisePa ?? 0)
  const widthPa = Math.max(criteria.stillDigits * rig.digitPa, criteria.stillShare * rating.ratedPa, noisyPa)
  const restPa = criteria.restShare * rating.ratedPa
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  let sinceUs: number | null = null
  for (let i = length - 1; i >= 0; i--) {
    const [tUs, rawPa] = [of.tUs[i]!, of.rawPa[i]!]
    least = Math.min(least, rawPa)
    most = Math.max(most, rawPa)
    const gap = sinceUs === null ? 0 : sinceUs - tUs
    if (
      !isInRange(rawPa) ||
      Math.abs(rawPa) > restPa ||
      most - least > widthPa ||
      gap > silenceUs ||
      newest.tUs - tUs > stillUs
    )
      break
    sinceUs = tUs
  }
  return sinceUs
}

/** The longest unbroken stay of a stroke near the pressure at which it is to be held, s, and the one that lasts to its end. */
export function heldS(run: Run, { rating }: Setup, stroke: Pick<Stroke, 'startUs' | 'endUs'>) {
  const { holdFromShare, holdToShare, silenceUs } = criteria
  const { of, length } = run.pressure
  let [longestS, nowS] = [0, 0]
  let [fromUs, beforeUs] = [Number.NaN, Number.NaN]
  for (let i = indexAt(run.pressure, stroke.startUs); i < length && of.tUs[i]! <= stroke.endUs; i++) {
    const [tUs, rawPa] = [of.tUs[i]!, of.rawPa[i]!]
    const share = (rawPa - run.tracker.zeroPa) / rating.ratedPa
    const inside = isInRange(rawPa) && share >= holdFromShare && share <= holdToShare
    const goesOn = inside && tUs - beforeUs <= silenceUs
    fromUs = goesOn ? fromUs : inside ? tUs : Number.NaN
    beforeUs = inside ? tUs : Number.NaN
    nowS = inside ? (tUs - fromUs) / 1e6 : 0
    longestS = Math.max(longestS, nowS)
  }
  return { longestS, nowS }
}
