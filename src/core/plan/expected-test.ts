// A part, a rig and a number of cycles into the uncertainty that a test of them will have, by the budget of the test itself.

import { criteria } from '../criteria.table.ts'
import type { Rating } from '../model/part.ts'
import type { RigSpec } from '../model/rig.ts'
import type { QuantityFit } from '../trips/fit.ts'
import { kickBetween, type Typing, typedHose, typedLagUs, typingOf } from '../typed/typed-session.ts'
import { type Allowances, allowancesOf, proved } from '../uncertainty/allowance.ts'
import { type Measurand, type Measured, measure } from '../uncertainty/budget.ts'
import { rampRatePaPerS } from './ramp-rate.ts'
import { strokesOf, testSteps, usualPlan } from './test-steps.table.ts'

/** What is planned, and what is assumed where nothing is stated. */
export type TestPlan = {
  /** Slow cycles; what else counts by the table of steps comes on top. */
  cycles: number
  /** Expected standard deviation of single trips, Pa. */
  scatterPa: number
  /** Times between readings, s. */
  pressureIntervalS: number
  contactIntervalS: number
  /** Whether the contact is read in ohms; else it is a state alone. */
  tellsOhms: boolean
}

/** Where a good part trips, Pa: the rated point, the middle of two limits, else as parts usually are. */
export function expectedPoints({ ratedPa, ratedOn, limits }: Rating): { makePa: number; breakPa: number } {
  const middle = (name: Measurand) => {
    const { lowPa = null, highPa = null } = limits[name] ?? {}
    return lowPa === null || highPa === null ? null : (lowPa + highPa) / 2
  }
  const differencePa = middle('differential')
  if (ratedOn === 'make') {
    const usual = differencePa === null ? criteria.breakShare * ratedPa : ratedPa - differencePa
    return { makePa: ratedPa, breakPa: middle('break') ?? usual }
  }
  const usual = differencePa === null ? ratedPa / criteria.breakShare : ratedPa + differencePa
  return { makePa: middle('make') ?? usual, breakPa: ratedPa }
}

/**
 * Make, break and differential of a good part as the test will state them. The lag is taken as well known as the rig
 * says, else as the intervals alone leave it, and as the two paces of the test tell it; its kicks can only sharpen it. The zero is taken as
 * the rig states it; two zeros that agree can only sharpen it too.
 */
export function expectTest(
  rating: Rating,
  rig: RigSpec,
  plan: Omit<TestPlan, 'tellsOhms'>,
): Record<Measurand, Measured> {
  const { cycles, scatterPa, pressureIntervalS, contactIntervalS } = plan
  const { makePa, breakPa } = expectedPoints(rating)
  const typing = typingOf(rig, [], rating.ratedPa)
  const slowPaPerS = typing?.pacePaPerS ?? rampRatePaPerS(rating, contactIntervalS)
  // Where the pressures are typed nothing tells a pace, so no faster stroke is asked for.
  const paces = testSteps.flatMap(({ name, asks, counts }) =>
    counts && asks !== null && 'pace' in asks && (typing === null || asks.pace === 'slow')
      ? [{ n: strokesOf(name, { ...usualPlan, cycles }), ratio: asks.pace === 'brisk' ? criteria.briskRatio : 1 }]
      : [],
  )
  const count = paces.reduce((sum, { n }) => sum + n, 0)
  const meanOf = (of: (ratePaPerS: number) => number) =>
    paces.reduce((sum, { n, ratio }) => sum + n * of(ratio * slowPaPerS), 0) / count
  const ratePaPerS = meanOf((rate) => rate)
  // The rectangle of the contact's interval at each pace: JCGM 100:2008, 4.3.7.
  const sampledPa = contactIntervalS * Math.sqrt(meanOf((rate) => rate * rate) / 12)
  // The slope of the trips over their rates: s/√Σ(r − r̄)².
  const byPacesUs = Math.hypot(scatterPa, sampledPa) / Math.sqrt(count * meanOf((rate) => (rate - ratePaPerS) ** 2))
  const statedUs = rig.lag?.uS ?? (pressureIntervalS + contactIntervalS) / 2
  const lagUs = typing ? typedLagUs(contactIntervalS) : 1 / Math.hypot(1 / statedUs, 1 / byPacesUs)
  const point = (valuePa: number): QuantityFit => ({
    valuePa,
    scatterU: Math.hypot(scatterPa, sampledPa) / Math.sqrt(count),
    // The sampling's share is known and not estimated from the cycles: JCGM 100:2008, G.4.1.
    scatterDof: Math.max(1, count - 1) * (1 + (sampledPa / scatterPa) ** 2) ** 2,
    lagU: ratePaPerS * lagUs,
    sigmaPa: scatterPa,
    n: count,
  })
  const input = {
    fit: {
      lag: { valueS: 0, uS: lagUs },
      make: point(makePa),
      break: point(breakPa),
      differentialLagU: 2 * ratePaPerS * lagUs,
    },
    zero: { before: null, after: null, noisePa: 0 },
    rig,
    resolutionPa: rig.digitPa,
    ratePaPerS: { make: ratePaPerS, break: ratePaPerS },
    lagDof: null,
    scatterPa: { make: scatterPa, break: scatterPa, differential: scatterPa * Math.SQRT2 },
    // The faster strokes and the hold of the table prove lag and line.
    allowances: typing ? typedAllowances(typing, { makePa, breakPa }) : proved,
    typing,
  }
  return measure(input)
}

/** What the usual hold, typed, leaves open of a leak, and what nothing typed tells of the hose. */
function typedAllowances(typing: Typing, points: { makePa: number; breakPa: number }): Allowances {
  const lossPaPerS = typing.digitPa / (criteria.holdS - typing.reactionS)
  return allowancesOf({
    ...points,
    hose: typedHose({ typing, line: null, kickPa: kickBetween(points.makePa, points.breakPa) }),
    lossPaPerS,
    kickPa: null,
  })
}
