// All trips of a session into make, break and the rig's lag at once, by weighing every lag and damping that the data allow.
//
// Unknowns: L (lag, s), the manometer's damping, M0 and B0, and the scatter of each. For one lag and damping the trip lies
// where its kick was seen AND where the contact's interval, moved back by the lag, says it was; the pressure there is that trip's value
// with a variance of its own. Makes (and breaks) are then normal about M0 (B0). Lag and damping are integrated over on
// a grid, so the value reported is the mean over L and its spread is in the uncertainty.
import { criteria } from '../criteria.table.ts'
import { dampedResponse, mostDelayS, type Response } from './response.ts'
import { agreeOnShift, shiftRangeS } from './timing.ts'
import {
  type Moment,
  momentAt,
  type Prepared,
  prepareTrip,
  type TripInput,
  type TripValue,
  tripValue,
} from './trip-moment.ts'

/** Contact path less pressure path, s, with its standard uncertainty. */
export type LagEstimate = { valueS: number; uS: number }

export type QuantityFit = {
  valuePa: number
  /** Standard uncertainty from scatter and intervals. */
  scatterU: number
  scatterDof: number
  /** Standard uncertainty from the lag that is still open. */
  lagU: number
  /** Scatter of single trips beyond what their own intervals explain, Pa. */
  sigmaPa: number
  n: number
}

export type SessionFit = {
  lag: LagEstimate
  make: QuantityFit | null
  break: QuantityFit | null
  /** Standard uncertainty of make − break from the lag. */
  differentialLagU: number
  values: TripValue[]
  dampingS: number
}

type Group = { transition: 'make' | 'break'; indices: number[] }

const coarseStepS = 0.025
/** A lag this much less likely by its timing alone is not weighed further; no agreement of pressures makes up for it. */
const hopeless = 40
const fineSteps = 60
/** A lag, and a lag with its damping, of less weight than this is left out. */
const leastLagWeight = 1e-5
const leastWeight = 1e-9

/**
 * The weighed fit. Trips that are `dated` are placed by their kicks too. `prior` null = flat: what the data alone say of
 * the lag. Null where no trip is given, and where no lag fits them all.
 */
export function fitSession(trips: readonly TripInput[], prior: LagEstimate | null, ratedPa: number): SessionFit | null {
  if (trips.length === 0) return null
  const dated = trips.some((t) => t.dated)
  const dampings = dated ? trips[0]!.surface.answers : [dampedResponse(0)]
  const agreed = dated ? agreeOnShift(trips) : { trips, shift: shiftRangeS }
  const prepared = agreed.trips.map((t) => prepareTrip(t, dampings))
  const groups: Group[] = (['make', 'break'] as const).map((transition) => ({
    transition,
    indices: prepared.flatMap((t, i) => (t.transition === transition && t.counted ? [i] : [])),
  }))
  const lags: number[] = []
  const fromS = agreed.shift.fromS - (dated ? mostDelayS(dampings) : 0)
  for (let l = fromS; l <= agreed.shift.toS; l += coarseStepS) lags.push(l)
  const sigmas = scatterGrid(ratedPa)
  const coarse = weigh(prepared, groups, dampings, lags, prior, sigmas)
  const sigmaOf = new Map(groups.map((g) => [g.transition, likeliestScatter(coarse, g, sigmas)]))
  const alive = lags.filter((_, l) => coarse.byLag[l]! > leastLagWeight)
  const from = Math.min(...alive) - coarseStepS
  const to = Math.max(...alive) + coarseStepS
  const fine = Array.from({ length: fineSteps + 1 }, (_, i) => from + (i * (to - from)) / fineSteps)
  const nodes = weighFixed(prepared, groups, dampings, fine, prior, sigmaOf)
  return nodes.length === 0 ? null : summarise(prepared, groups, nodes, sigmaOf, prior)
}

/** Each scatter of the grid is so many times the one before. */
const scatterStep = 1.45

function scatterGrid(ratedPa: number): number[] {
  return Array.from({ length: 16 }, (_, i) => ratedPa * 0.0004 * scatterStep ** i)
}

/** Log of the probability of values with own variances about one unknown mean, scatter sigma added (restricted likelihood). */
function groupFit(moments: readonly Moment[], sigma: number): { logZ: number; mean: number; variance: number } {
  let [weights, weighted, logZ] = [0, 0, 0]
  for (const m of moments) {
    const w = 1 / (sigma * sigma + m.variance)
    weights += w
    weighted += w * m.mean
    logZ += 0.5 * Math.log(w)
  }
  const mean = weighted / weights
  for (const m of moments) logZ -= (0.5 * (m.mean - mean) ** 2) / (sigma * sigma + m.variance)
  return { logZ: logZ - 0.5 * Math.log(weights), mean, variance: 1 / weights }
}

type Weighed = { byLag: number[]; bySigma: Map<string, number[]> }

function logPrior(prior: LagEstimate | null, lagS: number): number {
  return prior ? -0.5 * ((lagS - prior.valueS) / prior.uS) ** 2 : 0
}

const logSum = (xs: readonly number[]): number => {
  const top = Math.max(...xs)
  return top === -Infinity ? top : top + Math.log(xs.reduce((sum, x) => sum + Math.exp(x - top), 0))
}

/** First pass: weights of each lag, and of each scatter, with everything else integrated out. */
function weigh(
  trips: readonly Prepared[],
  groups: readonly Group[],
  dampings: readonly Response[],
  lags: readonly number[],
  prior: LagEstimate | null,
  sigmas: readonly number[],
): Weighed {
  const nodes = dampings.flatMap(({ delayS, logPrior: usual }, d) =>
    lags.map((lagS, l) => {
      const moments = trips.map((t) => momentAt(t, lagS, d, delayS))
      return { l, moments, base: usual + logPrior(prior, lagS) + moments.reduce((sum, m) => sum + m.logWeight, 0) }
    }),
  )
  const top = Math.max(...nodes.map((n) => n.base))
  const logByLag = lags.map(() => [] as number[])
  const logBySigma = new Map(groups.map((g) => [g.transition as string, sigmas.map(() => [] as number[])]))
  for (const { l, moments, base } of nodes) {
    if (base < top - hopeless) continue
    const fits = groups.map((g) => {
      const own = g.indices.map((i) => moments[i]!)
      return own.length === 0 ? [0] : sigmas.map((s) => groupFit(own, s).logZ)
    })
    const totals = fits.map(logSum)
    const all = base + totals.reduce((a, b) => a + b, 0)
    logByLag[l]!.push(all)
    groups.forEach((g, k) => {
      const list = logBySigma.get(g.transition)!
      for (const [s, f] of fits[k]!.entries()) list[s]!.push(all - totals[k]! + f)
    })
  }
  const normalise = (lists: number[][]) => {
    const logs = lists.map((x) => (x.length === 0 ? -Infinity : logSum(x)))
    const top = logSum(logs)
    return logs.map((x) => Math.exp(x - top))
  }
  return {
    byLag: normalise(logByLag),
    bySigma: new Map([...logBySigma].map(([k, lists]) => [k, normalise(lists)])),
  }
}

/** The scatter that makes the session likeliest, between grid points by a parabola in log scatter. */
function likeliestScatter(weighed: Weighed, group: Group, sigmas: readonly number[]): number {
  const weights = weighed.bySigma.get(group.transition)!
  const top = weights.indexOf(Math.max(...weights))
  const [a, b, c] = [weights[top - 1], weights[top], weights[top + 1]]
  if (!a || !b || !c) return sigmas[top]!
  const [la, lb, lc] = [Math.log(a), Math.log(b), Math.log(c)]
  const bend = la - 2 * lb + lc
  const shift = bend < 0 ? (0.5 * (la - lc)) / bend : 0
  const halfStep = 0.5
  return sigmas[top]! * scatterStep ** Math.max(-halfStep, Math.min(halfStep, shift))
}

type Node = { weight: number; lagS: number; damping: number; dampingS: number; moments: Moment[]; fits: Fit[] }
type Fit = { mean: number; variance: number } | null

/** Second pass: the scatter known, every lag and damping with its weight and its make and break. */
function weighFixed(
  trips: readonly Prepared[],
  groups: readonly Group[],
  dampings: readonly Response[],
  lags: readonly number[],
  prior: LagEstimate | null,
  sigmaOf: ReadonlyMap<string, number>,
): Node[] {
  const nodes: (Node & { log: number })[] = []
  dampings.forEach(({ delayS: dampingS, logPrior: usual }, damping) => {
    for (const lagS of lags) {
      const moments = trips.map((t) => momentAt(t, lagS, damping, dampingS))
      let log = usual + logPrior(prior, lagS) + moments.reduce((sum, m) => sum + m.logWeight, 0)
      const fits = groups.map((g): Fit => {
        if (g.indices.length === 0) return null
        const own = g.indices.map((i) => moments[i]!)
        const fit = groupFit(own, sigmaOf.get(g.transition)!)
        log += fit.logZ
        return fit
      })
      nodes.push({ log, weight: 0, lagS, damping, dampingS, moments, fits })
    }
  })
  const total = logSum(nodes.map((n) => n.log))
  return nodes
    .map(({ log, ...node }) => ({ ...node, weight: Math.exp(log - total) }))
    .filter((n) => n.weight > leastWeight)
}

function summarise(
  trips: readonly Prepared[],
  groups: readonly Group[],
  nodes: readonly Node[],
  sigmaOf: ReadonlyMap<string, number>,
  prior: LagEstimate | null,
): SessionFit {
  const average = (f: (n: Node) => number) => nodes.reduce((sum, n) => sum + n.weight * f(n), 0)
  const spread = (f: (n: Node) => number) => {
    const mean = average(f)
    return Math.sqrt(
      Math.max(
        0,
        average((n) => (f(n) - mean) ** 2),
      ),
    )
  }
  const lagS = average((n) => n.lagS)
  const quantity = (k: number): QuantityFit | null => {
    const { indices, transition } = groups[k]!
    const n = indices.length
    if (n === 0) return null
    const sigmaPa = sigmaOf.get(transition)!
    const own = average((node) => indices.reduce((sum, i) => sum + node.moments[i]!.variance, 0) / n)
    return {
      valuePa: average((node) => node.fits[k]!.mean),
      scatterU: Math.sqrt(average((node) => node.fits[k]!.variance)),
      // Welch–Satterthwaite of scatter (n − 1) and the trips' own, known variances.
      scatterDof: Math.max(1, n - 1) * (1 + own / (sigmaPa * sigmaPa)) ** 2,
      lagU: spread((node) => node.fits[k]!.mean),
      sigmaPa,
      n,
    }
  }
  const both = groups.every((g) => g.indices.length > 0)
  const likely = nodes.reduce((a, b) => (b.weight > a.weight ? b : a))
  const dampingS = average((n) => n.dampingS)
  const values = trips.map((t, i) => {
    const weighed = nodes.map((n) => ({ weight: n.weight, moment: n.moments[i]! }))
    return tripValue(t, weighed, likely)
  })
  // A kick is no step: how the air warms and the diaphragm travels passes for part of the display's damping, alike in all trips.
  const lagU = spread((n) => n.lagS)
  // The rig's record of the lag, where there is one, knows it without the shape.
  const uS = Math.min(Math.hypot(lagU, criteria.dampingShare * dampingS), Math.max(lagU, prior?.uS ?? Infinity))
  const shapeU = Math.sqrt(Math.max(0, uS * uS - lagU * lagU))
  const rates = groups.map(({ indices }) => indices.reduce((sum, i) => sum + values[i]!.ratePaPerS / indices.length, 0))
  const apartU = both ? spread((n) => n.fits[0]!.mean - n.fits[1]!.mean) : 0
  return {
    lag: { valueS: lagS, uS },
    make: quantity(0),
    break: quantity(1),
    differentialLagU: Math.hypot(apartU, both ? (rates[0]! + rates[1]!) * shapeU : 0),
    values,
    dampingS,
  }
}
