// What a kick looks like on the display: the manometer's answer to a step, times what is left of the kick as it fades.
import { criteria } from '../criteria.table.ts'

/** One shape that a kick may have in a session, as the fit weighs it. */
export type Response = {
  /** How far a steady ramp is shown late, s. */
  delayS: number
  /** Share (0 to 1) of the kick that shows `sinceS` after it. */
  shown: (sinceS: number) => number
  /** Variance of that share: begun anywhere within `widthS`, and of any shape between its neighbours here. */
  shownVar: (sinceS: number, widthS: number) => number
  /** The display averages over a stretch; else it is of the first order. */
  averages: boolean
  /** That stretch, or the time constant, s. */
  ownS: number
  /** The kick stays for good: all readings behind it tell of it, not only those just behind it. */
  lasting: boolean
  /** A kick that stays is followed reading by reading for so long, s; what comes later is taken as a whole. */
  followedS: number
  /** The display shows a step at once, so a moment within the gap between two readings changes nothing. */
  sharp: boolean
  /** Log of how usual it is. */
  logPrior: number
}

type Answer = {
  averages: boolean
  ownS: number
  delayS: number
  /** Share of a step that does not show yet, and how fast that falls, 1/s. */
  left: (sinceS: number) => number
  slope: (sinceS: number) => number
  /** Distance of its neighbours on the grid, as a share of its own time. */
  neighbourShare: number
  weight: number
}

/** How a kick fades: `shareVar` is the variance of what is kept, as far as its neighbours go. */
type Fade = {
  kept: (sinceS: number) => number
  shareVar: (sinceS: number, widthS: number) => number
  lasting: boolean
  weight: number
}

/** Time constants of the display that are considered, s, the first standing for one without any. */
const dampingsS = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.65, 0.8, 1.2] as const
/** Stretches that an averaging display takes its mean of, s. */
const averagesS = [0.5, 0.75, 1, 1.5, criteria.mostAverageS] as const
/** A display without damping still takes a moment over a step, s: common practice, no source. */
const undampedS = 0.0125
/** Mean damping of manometers, s, as a prior for the session's own estimate: common practice, no source. */
const usualDampingS = 0.3
/** One manometer in so many averages over a stretch: common practice, no source. */
const averagingShare = 0.2
/** Distance of neighbours on the grid of dampings: s, and of the damping where that is more. */
const gridStepS = 0.05
const gridStepShare = 0.25
/** After so many time constants exp(−t/τ) is below what a double adds to 1. */
const vanishedTaus = 37
/** After so many a thousandth of a step is left, less than any digit shows of a kick. */
const settledTaus = 7

/** Slower than this a fade is told from a kick that stays by no reading of the window, s. */
const slowFadeS = 2

const stays: Fade = { kept: () => 1, shareVar: () => 0, lasting: true, weight: 0.5 }
const slow: Fade = {
  ...stays,
  shareVar: (s) => (1 - Math.exp(-s / slowFadeS)) ** 2 / 12,
  lasting: false,
  weight: 1 / 8,
}
/** Air that takes the temperature of its wall, a vent, or a hand that fills the kick up: time constants, s. */
const quick = [0.25, 0.5, 1].map((tauS): Fade => {
  const kept = (sinceS: number) => Math.exp(-sinceS / tauS)
  // Neighbours are twice as slow or quick.
  const shareVar = (s: number, widthS: number) => ((kept(s) / tauS) ** 2 * (widthS ** 2 + (s / 2) ** 2)) / 12
  return { kept, shareVar, lasting: false, weight: 1 / 8 }
})
/** The displays that a fading kick is looked for behind, s: a slower one shows no more than its own shape. */
const fadingDampingsS: readonly number[] = [0, 0.1, 0.2, 0.3, 0.5]

/** The same function, which is not worked out again where it is asked of the same moment several times in a row. */
function lastKept(of: (sinceS: number) => number): (sinceS: number) => number {
  let [askedS, value] = [Number.NaN, Number.NaN]
  return (sinceS) => {
    if (sinceS !== askedS) {
      askedS = sinceS
      value = of(sinceS)
    }
    return value
  }
}

function damped(dampingS: number): Answer {
  const tauS = dampingS === 0 ? undampedS : dampingS
  const left = lastKept((sinceS) => (sinceS < vanishedTaus * tauS ? Math.exp(-sinceS / tauS) : 0))
  const d = dampingsS.indexOf(dampingS as (typeof dampingsS)[number])
  const spanS = ((dampingsS[d + 1] ?? dampingS) - (dampingsS[d - 1] ?? dampingS)) / 2
  return {
    averages: false,
    ownS: dampingS,
    delayS: dampingS,
    left,
    slope: (sinceS) => left(sinceS) / tauS,
    neighbourShare: dampingS === 0 ? 0 : Math.max(gridStepS, gridStepShare * dampingS) / dampingS,
    weight: (Math.exp(-dampingS / usualDampingS) * spanS) / usualDampingS,
  }
}

function averaging(stretchS: number): Answer {
  return {
    averages: true,
    ownS: stretchS,
    delayS: stretchS / 2,
    left: (sinceS) => Math.max(0, 1 - sinceS / stretchS),
    slope: (sinceS) => (sinceS < stretchS ? 1 / stretchS : 0),
    neighbourShare: averagesS[0] / 2 / stretchS,
    weight: averagingShare / averagesS.length,
  }
}

function shape(answer: Answer, fade: Fade): Response {
  const { averages, ownS, delayS, left, slope, neighbourShare, weight } = answer
  const { kept, shareVar, lasting } = fade
  const shown = (sinceS: number) => (1 - left(sinceS)) * kept(sinceS)
  const answerVar = (sinceS: number, widthS: number) =>
    delayS === 0
      ? left(sinceS) ** 2 / 4
      : ((slope(sinceS) * widthS) ** 2 + (slope(sinceS) * sinceS * neighbourShare) ** 2) / 12
  return {
    averages,
    ownS,
    delayS,
    shown,
    shownVar: (sinceS, widthS) =>
      answerVar(sinceS, widthS) * kept(sinceS) ** 2 + (1 - left(sinceS)) ** 2 * shareVar(sinceS, widthS),
    lasting,
    followedS: Number.POSITIVE_INFINITY,
    sharp: delayS === 0 && lasting,
    logPrior: Math.log(weight * fade.weight),
  }
}

/** A kick that stays, behind a first-order display of time constant `dampingS` (0 = at once). */
export function dampedResponse(dampingS: number): Response {
  return shape(damped(dampingS), stays)
}

/** The same for a long stretch of many readings: followed until as good as all of it shows, or each reading would cost as many more. */
export function briefResponse(dampingS: number): Response {
  return { ...dampedResponse(dampingS), followedS: settledTaus * Math.max(dampingS, undampedS) }
}

/** All shapes that are considered; the session's data weigh them. Neighbours are alike. */
const responses: readonly Response[] = [
  ...dampingsS.map(dampedResponse),
  ...averagesS.map((stretchS) => shape(averaging(stretchS), stays)),
  ...[slow, ...quick].flatMap((fade) => fadingDampingsS.map((dampingS) => shape(damped(dampingS), fade))),
]

/** The longest delay among them, s. */
export function mostDelayS(answers: readonly Response[]): number {
  return Math.max(0, ...answers.map((r) => r.delayS))
}

/** What is known of a session's display before its kicks are looked at: the slowest that it can be, s, and whether its digit is coarse. */
export type DisplayBound = { dampingS: number; easedS: number; coarse: boolean }

/** Between two neighbours the slower one may fit better than the quicker. */
const slack = 1.25
/** A fall to rest slower than a step shows less than the stretch it is averaged over. */
const averagingSlack = 1.5

/** The shapes that such a display may show. A coarse digit shows too few readings of a kick to tell how it fades. */
export function responsesOf({ dampingS, easedS, coarse }: DisplayBound): readonly Response[] {
  const fits = (r: Response) => r.ownS <= (r.averages ? averagingSlack * easedS : slack * dampingS)
  return responses.filter((r) => fits(r) && (r.lasting || !coarse))
}
