// Trips and how far a switch behind a hose is behind the tee there into the hose's lag: what the paces show of it, and what they do not exclude.
import { criteria } from '../../criteria.table.ts'
import { studentQuantile } from '../../statistics/student.ts'
import type { LagEstimate, QuantityFit, SessionFit } from '../fit.ts'
import type { TripInput, TripValue } from '../trip-moment.ts'
import type { Behind, LagShape } from './behind-hose.ts'

export type HoseLag = {
  /** What the paces show, taken off each trip; null where they show none. */
  shown: (LagEstimate & { shape: LagShape }) | null
  /** How much later than that the switch may feel the pressure by what the paces do not exclude (one-sided 95 %). */
  late: Open
  /** How much earlier it may have tripped than the display shows: a display whose delay no kick dates. */
  early: Open
}

/** A lag that is not excluded, s, and what it makes at the trips, Pa. */
type Open = { lagS: number; pa: number }

type Transition = 'make' | 'break'

/**
 * Make and break apart: while the diaphragm floats the hose fills it too, on its stop it does not. `both`: what the lags of the two,
 * not excluded together, may take off the differential and add to it, Pa.
 */
export type HoseLags = Record<Transition, HoseLag> & { both: { latePa: number; earlyPa: number } }

/** A hose that trips at one pace leave open up to `lagS`. */
export function hoseAtPace(paPerS: number, lagS: number): HoseLags {
  const lag: HoseLag = { shown: null, late: { lagS, pa: lagS * paPerS }, early: { lagS: 0, pa: 0 } }
  return { make: lag, break: lag, both: { latePa: 2 * lagS * paPerS, earlyPa: 0 } }
}

/**
 * What needs to be thought of: the longest lags of the hose, and of a display that no kick dates, s; the shapes of a lag; how well the
 * lag is known without the paces, s, and whether from the rig's record (the paces tell it where they know it better), null where kicks
 * tell it; whether one that shows is taken off.
 */
export type MostLag = {
  hoseS: number
  displayS: Record<Transition, number>
  shapes: readonly LagShape[]
  known: { uS: number; recorded: boolean } | null
  taken: boolean
}

/** A trip, its value, and how far behind the tee a switch is there that feels it late. */
export type HoseTrip = { input: Pick<TripInput, 'transition' | 'counted'>; value: TripValue; behind: Behind }

/** A lag of one shape, and the sum of squares about the mean of the values freed of it. */
type Lag = { shape: LagShape; lagS: number; squares: number }
type Profile = { lags: readonly Lag[]; best: Lag; dof: number }

const stepS = 0.01
/** Below none too: scatter puts the likeliest lag there half of the time, and so does a display that is late. */
const lookedAtS = Array.from(
  { length: Math.round((2 * criteria.mostLagS) / stepS) + 1 },
  (_, i) => i * stepS - criteria.mostLagS,
)

const mean = (xs: readonly number[]) => xs.reduce((sum, x) => sum + x, 0) / xs.length

/** What a lag makes at the trips in the mean, Pa: above 0 where the switch feels less of what is on its way to it. */
function madePa(own: readonly HoseTrip[], { shape, lagS }: Pick<Lag, 'shape' | 'lagS'>): number {
  if (own.length === 0) return 0
  return (own[0]!.input.transition === 'make' ? 1 : -1) * mean(own.map(({ behind }) => behind[shape](lagS)))
}

const countedOf = (trips: readonly HoseTrip[], transition: Transition) =>
  trips.filter(({ input }) => input.counted && input.transition === transition)

/**
 * Lags of the hose: the likeliest makes the values of the counted trips, freed of it, scatter least; each transition has its own and
 * both have one scatter s. A lag that raises the sum of squares by no more than t²s² is not excluded. Trips at one pace exclude nothing.
 */
export function hoseLags(trips: readonly HoseTrip[], most: MostLag): HoseLags {
  const own = { make: countedOf(trips, 'make'), break: countedOf(trips, 'break') }
  const freed = { make: freedOf(own.make, most.shapes), break: freedOf(own.break, most.shapes) }
  const profiles = { make: profileOf(freed.make), break: profileOf(freed.break) }
  const both = [profiles.make, profiles.break].filter((p) => p !== null)
  const dof = both.reduce((sum, p) => sum + p.dof, 0)
  const pooled = both.reduce((sum, p) => sum + p.best.squares, 0) / dof
  const lagOf = (transition: Transition, other: Profile | null): HoseLag & { costs: readonly Cost[] | null } => {
    const [mine, profile, displayMostS] = [own[transition], profiles[transition], most.displayS[transition]]
    const within = <L extends Pick<Lag, 'shape' | 'lagS'>>(lags: readonly L[], displayS: number) => {
      // Paces that leave only longer lags than the record of the line show that it holds no more.
      const hoseS = lags.some(({ lagS }) => lagS <= most.hoseS) ? most.hoseS : criteria.mostLagS
      // No orifice takes more than the longest hose.
      const mostPa = Math.abs(madePa(mine, { shape: 'hose', lagS: hoseS }))
      return (
        lags
          .filter(({ lagS }) => lagS >= -displayS && lagS <= hoseS)
          // And no display is late as the square of the pace.
          .filter((lag) => lag.shape !== 'orifice' || (lag.lagS >= 0 && Math.abs(madePa(mine, lag)) <= mostPa))
      )
    }
    /** What lags between these bounds make, beyond what is taken off. */
    const open = (lags: readonly Pick<Lag, 'shape' | 'lagS'>[], takenPa: number, displayS = displayMostS) => {
      const usable = within(lags, displayS)
      const beyond = usable.map((lag) => madePa(mine, lag) - takenPa)
      const farthestS = (sign: 1 | -1) => Math.max(0, ...usable.map(({ lagS }) => sign * lagS))
      return {
        late: { lagS: farthestS(1), pa: Math.max(0, ...beyond) },
        early: { lagS: farthestS(-1), pa: Math.max(0, ...beyond.map((pa) => -pa)) },
      }
    }
    if (profile === null || !pacesDiffer(mine)) return { shown: null, ...open(lagsOf(most.shapes), 0), costs: null }
    const variance = Math.max(pooled, mean(mine.map(({ value }) => value.sdPa ** 2)))
    const notExcluded = (p: Profile, sds: number) =>
      p.lags.filter(({ squares }) => squares <= p.best.squares + sds ** 2 * variance)
    const allowed = studentQuantile(criteria.allowanceProbability, dof)
    const surely = studentQuantile(criteria.hoseProbability, dof)
    const isOpen = (p: Profile, { shape, lagS }: Lag) =>
      notExcluded(p, surely).some((lag) => lag.shape === shape && lag.lagS === lagS)
    // An instrument that is late is so for both, a hose need not be.
    const joint = most.known === null || other === null ? null : together(profile, other)
    const common = joint !== null && isOpen(profile, joint.best) && isOpen(other!, joint.best)
    const { best } = common ? joint : profile
    const likely = notExcluded(common ? joint : profile, 1).filter(({ shape }) => shape === best.shape)
    const uS = Math.max(stepS, ...likely.map(({ lagS }) => Math.abs(lagS - best.lagS)))
    // A drift of the part looks like a hose at one of the two and like less than none at the other.
    const drifts = other !== null && notExcluded(other, allowed).every(({ lagS }) => lagS < 0)
    const sure = notExcluded(profile, surely).every(({ lagS }) => lagS > 0)
    // Strokes that the part itself made odd look like a hose at their pace: each quick one must show it by itself.
    const { slow, quick } = byPace(mine)
    const alone = quick.map((i) => profileOf(freed[transition], [...slow, i]))
    const each = alone.every((p) => p === null || notExcluded(p, allowed).every(({ lagS }) => lagS > 0))
    const shows = !drifts && sure && each && best.lagS > criteria.hoseS
    const told = most.known !== null && uS < most.known.uS
    if (most.taken && (shows || told)) {
      // One lag for both is a guess: what either leaves open by itself stays open.
      const others = notExcluded(profile, allowed).filter(({ shape }) => common || shape !== best.shape)
      // No bench keeps to a plain shape: what is taken off is off by a share of itself.
      const shapedS = Math.hypot(uS, criteria.hoseShapeShare * best.lagS)
      const shown = {
        shape: best.shape,
        ...(shows ? { valueS: best.lagS, uS: shapedS } : withRecord(best.lagS, shapedS, most)),
      }
      return { shown, ...open(others, madePa(mine, { shape: best.shape, lagS: shown.valueS })), costs: null }
    }
    // Paces that leave only a later display than the kick says contradict it: then it may be as late as they say.
    const left = notExcluded(profile, allowed)
    const displayS = left.every(({ lagS }) => lagS < 0) ? criteria.mostDisplayS : displayMostS
    const costs = within(left, displayS).map((lag) => ({
      pa: madePa(mine, lag),
      cost: (lag.squares - profile.best.squares) / variance,
    }))
    return { shown: null, ...open(left, 0, displayS), costs }
  }
  const [{ costs: makeCosts, ...make }, { costs: breakCosts, ...back }] = [
    lagOf('make', profiles.break),
    lagOf('break', profiles.make),
  ]
  if (makeCosts === null || breakCosts === null)
    return { make, break: back, both: { latePa: make.late.pa + back.late.pa, earlyPa: make.early.pa + back.early.pa } }
  const mostCost = studentQuantile(criteria.allowanceProbability, dof) ** 2
  const farthest = (sign: 1 | -1) => {
    let farPa = 0
    for (const a of makeCosts)
      for (const b of breakCosts) if (a.cost + b.cost <= mostCost) farPa = Math.max(farPa, sign * (a.pa + b.pa))
    return farPa
  }
  return { make, break: back, both: { latePa: farthest(1), earlyPa: farthest(-1) } }
}

/** What a lag makes at the trips, Pa, and by how many variances it raises the sum of squares. */
type Cost = { pa: number; cost: number }

const lagsOf = (shapes: readonly LagShape[]) => shapes.flatMap((shape) => lookedAtS.map((lagS) => ({ shape, lagS })))

/** A lag beyond that of the rig's record, weighed with it by inverse variance where the two do not conflict. */
function withRecord(valueS: number, uS: number, { known }: MostLag): LagEstimate {
  const apart = known && Math.abs(valueS) > criteria.lagConflictSds * Math.hypot(uS, known.uS)
  if (known === null || !known.recorded || apart) return { valueS, uS }
  const share = known.uS ** 2 / (known.uS ** 2 + uS ** 2)
  return { valueS: share * valueS, uS: Math.sqrt(share) * uS }
}

/** Both with one lag. */
function together(a: Profile, b: Profile): Profile {
  const lags = a.lags.map((lag, i) => ({ ...lag, squares: lag.squares + b.lags[i]!.squares }))
  return { lags, best: bestOf(lags), dof: a.dof + b.dof }
}

/** An orifice is thought of, and never taken off: its lag is that of one pace only. */
const bestOf = (lags: readonly Lag[]) =>
  lags.filter(({ shape }) => shape !== 'orifice').reduce((a, b) => (b.squares < a.squares ? b : a))

const paceOf = ({ behind }: HoseTrip) => Math.abs(behind.hose(1))

/** Of enough trips two of each pace must show it: one alone may be dated wrongly, or the hand stopped there. */
function pacesDiffer(own: readonly HoseTrip[]): boolean {
  const paces = own.map(paceOf).sort((a, b) => a - b)
  const alone = paces.length < criteria.hoseTwiceFrom ? 0 : 1
  return paces.at(-1 - alone)! > criteria.hoseRateRatio * paces[alone]!
}

/** The places of the trips about as slow as the slowest, and of those that are quicker. */
function byPace(own: readonly HoseTrip[]): { slow: number[]; quick: number[] } {
  const paces = own.map(paceOf)
  const isQuick = (i: number) => paces[i]! > criteria.hoseRateRatio * Math.min(...paces)
  const places = [...own.keys()]
  return { slow: places.filter((i) => !isQuick(i)), quick: places.filter(isQuick) }
}

/** The values of the trips freed of each lag that is looked at, Pa. */
type Freed = Pick<Lag, 'shape' | 'lagS'> & { freedPa: readonly number[] }

const freedOf = (own: readonly HoseTrip[], shapes: readonly LagShape[]): Freed[] =>
  lagsOf(shapes).map((lag) => ({
    ...lag,
    freedPa: own.map(({ value, behind }) => value.valuePa - behind[lag.shape](lag.lagS)),
  }))

/** `of`: the places of the trips that count, all of them unless told. null with too few for a scatter about a lag. */
function profileOf(
  freed: readonly Freed[],
  of: readonly number[] = [...(freed[0]?.freedPa.keys() ?? [])],
): Profile | null {
  const dof = of.length - 2
  if (dof < 1) return null
  const lags = freed.map(({ shape, lagS, freedPa }): Lag => {
    let sum = 0
    for (const i of of) sum += freedPa[i]!
    const centre = sum / of.length
    let squares = 0
    for (const i of of) squares += (freedPa[i]! - centre) ** 2
    return { shape, lagS, squares }
  })
  return { lags, best: bestOf(lags), dof }
}

/**
 * The fit with the lags that show taken off every trip and their uncertainty put into the lag's share; in place of it where the paces
 * alone tell all of the lag (`dated` by no kick).
 */
export function freeOfHose(
  fit: SessionFit,
  trips: readonly HoseTrip[],
  lags: Pick<HoseLags, Transition>,
  dated: boolean,
): SessionFit {
  const freed = trips.map(({ input, value, behind }): HoseTrip => {
    const { shown, late, early } = lags[input.transition]
    const shiftPa = shown ? behind[shown.shape](shown.valueS) : 0
    const { valuePa, loPa, hiPa } = value
    const [latePa, earlyPa] = [late, early].map(({ lagS }) => Math.abs(behind.hose(lagS)))
    const open =
      input.transition === 'make' ? { lowPa: latePa!, highPa: earlyPa! } : { lowPa: earlyPa!, highPa: latePa! }
    const [lo, hi] = [loPa - shiftPa, hiPa - shiftPa]
    return {
      input,
      behind,
      value: { ...value, valuePa: valuePa - shiftPa, loPa: lo, hiPa: hi, takenPa: shiftPa, open },
    }
  })
  /** What the uncertainty of the lag makes at the trips, Pa. */
  const uOf = (transition: Transition) => {
    const { shown } = lags[transition]
    if (shown === null) return 0
    const at = (lagS: number) => madePa(countedOf(trips, transition), { shape: shown.shape, lagS })
    return Math.abs(at(shown.valueS + shown.uS) - at(shown.valueS - shown.uS)) / 2
  }
  const withU = (uS: number, hoseU: number) => (dated ? Math.hypot(uS, hoseU) : hoseU)
  const refit = (point: QuantityFit | null, transition: Transition): QuantityFit | null => {
    const values = countedOf(freed, transition).map(({ value }) => value.valuePa)
    if (point === null || lags[transition].shown === null || values.length <= 1) return point
    const valuePa = mean(values)
    // One degree of freedom went into the lag.
    const dof = values.length - 2
    const sigmaPa = Math.sqrt(values.reduce((sum, pa) => sum + (pa - valuePa) ** 2, 0) / (values.length - 1))
    return {
      ...point,
      valuePa,
      sigmaPa,
      scatterU: sigmaPa / Math.sqrt(values.length),
      scatterDof: Math.max(1, dof),
      lagU: withU(point.lagU, uOf(transition)),
    }
  }
  const shown = hoseShown(lags)
  // What is wrong with one lag for both takes off the one what it puts onto the other.
  const isOne = lags.make.shown !== null && lags.make.shown.valueS === lags.break.shown?.valueS
  const apartU = isOne ? uOf('make') + uOf('break') : Math.hypot(uOf('make'), uOf('break'))
  return {
    ...fit,
    lag: shown ? { valueS: fit.lag.valueS + shown.valueS, uS: withU(fit.lag.uS, shown.uS) } : fit.lag,
    make: refit(fit.make, 'make'),
    break: refit(fit.break, 'break'),
    differentialLagU: shown ? withU(fit.differentialLagU, apartU) : fit.differentialLagU,
    values: freed.map(({ value }) => value),
  }
}

/** The lag that shows in one number: the larger one where both do. */
export function hoseShown({ make, break: back }: Pick<HoseLags, Transition>): LagEstimate | null {
  if (!make.shown || !back.shown) return make.shown ?? back.shown
  return make.shown.valueS > back.shown.valueS ? make.shown : back.shown
}
