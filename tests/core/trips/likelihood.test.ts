// The session's fit against brute-force numerical integration of the same likelihood: interval-censored normal trips with one shared lag.
import { describe, expect, test } from 'vitest'
import { normalCdf, normalPdf } from '../../../src/core/statistics/normal.ts'
import { fitSession } from '../../../src/core/trips/fit.ts'
import { tripSurface } from '../../../src/core/trips/kick.ts'
import { dampedResponse } from '../../../src/core/trips/response.ts'
import type { TripInput } from '../../../src/core/trips/trip-moment.ts'

const ratedPa = 62.27
const makes = [
  { tripPa: 62.1, ratePaPerS: 0.8, phase: 0.2 },
  { tripPa: 62.5, ratePaPerS: 1.5, phase: 0.7 },
  { tripPa: 61.9, ratePaPerS: 2.4, phase: 0.4 },
  { tripPa: 62.3, ratePaPerS: 0.7, phase: 0.9 },
]
const breaks = [
  { tripPa: 47.2, ratePaPerS: 0.9, phase: 0.5 },
  { tripPa: 46.8, ratePaPerS: 1.9, phase: 0.1 },
  { tripPa: 47.1, ratePaPerS: 2.6, phase: 0.8 },
  { tripPa: 47.4, ratePaPerS: 1.1, phase: 0.6 },
]

type Trip = { tripPa: number; ratePaPerS: number; phase: number; sign: 1 | -1; loS: number; hiS: number }

const lagS = 0.1

/** A straight ramp through the trip at 0 s, the contact seen `lagS` later within an interval of `contactS`. */
function trip(spec: (typeof makes)[number], sign: 1 | -1, contactS: number): Trip {
  return { ...spec, sign, loS: lagS - spec.phase * contactS, hiS: lagS + (1 - spec.phase) * contactS }
}

const session = (contactS: number) => [
  ...makes.map((m) => trip(m, 1, contactS)),
  ...breaks.map((b) => trip(b, -1, contactS)),
]

function input(t: Trip): TripInput {
  const samples = Array.from({ length: 81 }, (_, i) => {
    const tS = -4 + i * 0.1
    return { tS, pressurePa: t.tripPa + t.sign * t.ratePaPerS * tS, extraVar: 0 }
  })
  const surface = tripSurface(samples, -2.5, 2.5, t.sign, { noiseVar: 1e-6, q: 1e-6 }, 12, [dampedResponse(0)])
  const transition = t.sign === 1 ? 'make' : 'break'
  const { loS, hiS } = t
  return {
    transition,
    counted: true,
    closes: t.sign === 1,
    loS,
    hiS,
    surface,
    kick: false,
    dated: false,
    contactBlind: false,
  }
}

/** Posterior mean and standard deviation of M0 and of L by plain sums over a fine grid of L, M0 and B0, the scatters given. */
function integrate(
  trips: readonly Trip[],
  prior: { valueS: number; uS: number },
  makeSigma: number,
  breakSigma: number,
) {
  const group = (sign: 1 | -1, sigma: number, lag: number, centre: number) => {
    const own = trips.filter((t) => t.sign === sign)
    let [sum, first, second] = [0, 0, 0]
    for (let mu = centre - 3; mu <= centre + 3; mu += 0.02) {
      let likelihood = 1
      for (const t of own) {
        const at = (tS: number) => t.tripPa + t.sign * t.ratePaPerS * (tS - lag)
        const [a, b] = [at(t.loS), at(t.hiS)].sort((x, y) => x - y) as [number, number]
        likelihood *= normalCdf((b - mu) / sigma) - normalCdf((a - mu) / sigma)
      }
      sum += likelihood
      first += likelihood * mu
      second += likelihood * mu * mu
    }
    return { sum, first, second }
  }
  let [weights, make, makeSquares, lagMean, lagSquares] = [0, 0, 0, 0, 0]
  for (let lag = -0.8; lag <= 1; lag += 0.02) {
    const m = group(1, makeSigma, lag, 62.2)
    const b = group(-1, breakSigma, lag, 47.1)
    const weight = normalPdf((lag - prior.valueS) / prior.uS) * m.sum * b.sum
    weights += weight
    make += weight * (m.first / m.sum)
    makeSquares += weight * (m.second / m.sum)
    lagMean += weight * lag
    lagSquares += weight * lag * lag
  }
  const mean = make / weights
  return {
    makePa: mean,
    makeU: Math.sqrt(makeSquares / weights - mean * mean),
    lagS: lagMean / weights,
    lagU: Math.sqrt(lagSquares / weights - (lagMean / weights) ** 2),
  }
}

describe('The fit of a session without kicks is the mean over the lag, as numerical integration gives it', () => {
  // The fit takes each interval by its mean and variance, the integral by its full shape. Intervals about as wide as the scatter leave
  // little between them; three times as wide, up to a fifth of u.
  for (const { contactS, within } of [
    { contactS: 0.2, within: 0.06 },
    { contactS: 0.5, within: 0.2 },
  ])
    for (const prior of [
      { valueS: 0, uS: 0.3 },
      { valueS: 0.15, uS: 0.05 },
    ])
      test(`a contact read every ${contactS} s, lag known to be ${prior.valueS} ± ${prior.uS} s`, () => {
        const trips = session(contactS)
        const fit = fitSession(trips.map(input), prior, ratedPa)!
        const exact = integrate(trips, prior, fit.make!.sigmaPa, fit.break!.sigmaPa)
        const u = Math.hypot(fit.make!.scatterU, fit.make!.lagU)
        expect(Math.abs(fit.make!.valuePa - exact.makePa)).toBeLessThan(within * exact.makeU)
        expect(Math.abs(u / exact.makeU - 1)).toBeLessThan(within)
        expect(Math.abs(fit.lag.valueS - exact.lagS)).toBeLessThan(within * exact.lagU)
        expect(Math.abs(fit.lag.uS / exact.lagU - 1)).toBeLessThan(within)
      })
})

test('Trips that no lag fits, such as pressures that are no numbers, give no fit.', () => {
  const lost = session(0.3).map((t) => input({ ...t, tripPa: Number.NaN }))
  expect(fitSession(lost, null, ratedPa)).toBeNull()
})
