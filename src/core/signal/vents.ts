// The rests between strokes into what they say of the zero: a straight line holds, it bends, or it moved where nobody saw it.
import { criteria } from '../criteria.table.ts'
import { findStrokes } from '../intake/stroke-tracker.ts'
import { Columns, columnOf } from '../model/columns.ts'
import { indexAt } from '../statistics/index-at.ts'
import { fitLine } from '../statistics/line.ts'
import { mean, median, sampleSd } from '../statistics/mean.ts'

/** One vented stretch: its mean reading, the standard deviation of single readings, and how many. */
export type ZeroRest = { tUs: number; meanPa: number; sdPa: number; n: number }

export type Vents = {
  /** Rests that the zero goes through; null where the straight line between the first and the last holds. */
  knots: readonly ZeroRest[] | null
  /** Standard deviation of the rests about the zero that is subtracted, Pa. */
  scatterPa: number
  /** From one rest to the next the zero moved by more than the rests about them explain: what lies between is void. */
  jumps: readonly { fromUs: number; toUs: number; movedPa: number }[]
}

type Ends = { before: ZeroRest | null; after: ZeroRest | null; noisePa: number }

/** What the rests between the strokes say; `linePa` is the straight zero of `ends`. */
export function findVents(
  samples: Columns<'tUs' | 'rawPa'>,
  ends: Ends,
  linePa: (tUs: number) => number,
  digitPa: number,
  ratedPa: number,
): Vents {
  const { tUs, rawPa } = samples.part().of
  const levelled = new Columns(
    { tUs, pressurePa: columnOf(samples.length, (i) => rawPa[i]! - linePa(tUs[i]!)) },
    samples.length,
  )
  const { strokes } = findStrokes(levelled, ratedPa)
  const between = strokes.slice(1).flatMap((next, i) => {
    const from = indexAt(samples, strokes[i]!.endUs + criteria.zeroDelayUs)
    return steadyRest(samples.part(from, indexAt(samples, next.startUs)), ends.noisePa, digitPa) ?? []
  })
  const inside = between.filter((v) => v.tUs > (ends.before?.tUs ?? 0) && v.tUs < (ends.after?.tUs ?? Infinity))
  const all = [ends.before, ...inside, ends.after].filter((v) => v !== null)
  const uPa = ({ sdPa, n }: ZeroRest) => Math.max(sdPa, digitPa / Math.sqrt(12)) / Math.sqrt(n)
  const allowPa = (a: ZeroRest, b: ZeroRest) =>
    Math.max(criteria.zeroJumpShare * ratedPa, digitPa + criteria.zeroMovedSds * Math.hypot(uPa(a), uPa(b)))
  const offs = inside.map((v) => v.meanPa - linePa(v.tUs))
  const straight = inside.every((v, i) => Math.abs(offs[i]!) <= allowPa(v, all[0] ?? v))
  const knots = straight ? null : all
  const left = knots === null ? offs : knots.slice(1, -1).map((v, i) => offBetween(knots[i]!, v, knots[i + 2]!))
  return { knots, scatterPa: rms(left), jumps: straight ? [] : jumpsOf(all, allowPa) }
}

const rms = (values: readonly number[]) =>
  values.length === 0 ? 0 : Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length)

/** How far a rest lies off the straight line between its neighbours, Pa. */
function offBetween(a: ZeroRest, v: ZeroRest, b: ZeroRest): number {
  return v.meanPa - a.meanPa - ((b.meanPa - a.meanPa) * (v.tUs - a.tUs)) / (b.tUs - a.tUs)
}

/** A drift goes on from rest to rest at rates that change little; a rate beyond those before and after it is a jump. */
function jumpsOf(all: readonly ZeroRest[], allowPa: (a: ZeroRest, b: ZeroRest) => number): Vents['jumps'] {
  const rate = (i: number) => {
    const [a, b] = [all[i], all[i + 1]]
    return a && b ? (b.meanPa - a.meanPa) / (b.tUs - a.tUs) : null
  }
  /** The rate next to those two, where it changes as it did. */
  const onward = (near: number, far: number) => {
    const [here, there] = [rate(near), rate(far)]
    return here === null || there === null ? null : 2 * here - there
  }
  return all.slice(1).flatMap((b, i) => {
    const a = all[i]!
    const neighbours = [rate(i - 1) ?? onward(i + 1, i + 2), rate(i + 1) ?? onward(i - 1, i - 2)].filter(
      (r) => r !== null,
    )
    if (neighbours.length === 0) return []
    const moved = rate(i)!
    const [least, most] = [Math.min(...neighbours), Math.max(...neighbours)]
    // Where a drift bends, its rate is not quite between those of its neighbours.
    const beyond = Math.max(moved - most, least - moved) - (most - least) / 2
    return beyond * (b.tUs - a.tUs) > allowPa(a, b)
      ? [{ fromUs: a.tUs, toUs: b.tUs, movedPa: b.meanPa - a.meanPa }]
      : []
  })
}

/** The rest of a stretch between two strokes, without the tail of a vent and the start of a draw; null where it is not still. */
function steadyRest(stretch: Columns<'tUs' | 'rawPa'>, noisePa: number, digitPa: number): ZeroRest | null {
  const { rawPa } = stretch.of
  const middlePa = median(rawPa) ?? 0
  const nearPa = criteria.zeroNoises * Math.max(noisePa, digitPa / 2)
  let [from, best, length] = [0, 0, 0]
  for (let i = 0; i < stretch.length; i++) {
    if (!(Math.abs(rawPa[i]! - middlePa) <= nearPa)) from = i + 1
    else if (i + 1 - from > length) {
      best = from
      length = i + 1 - from
    }
  }
  const longest = stretch.part(best, best + length)
  const [first, last] = [longest.at(0), longest.at(-1)]
  if (!first || !last || longest.length < criteria.zeroOpeningReadings) return null
  const values = [...longest.of.rawPa]
  const line = fitLine(
    longest.of.tUs.map((tUs) => (tUs - first.tUs) / 1e6),
    values,
  )
  // A slow vent that still falls is not a zero; nor is a stretch too short to tell.
  if (!line || (Math.abs(line.slope) + line.uSlope) * criteria.zeroS > digitPa + nearPa) return null
  return { tUs: (first.tUs + last.tUs) / 2, meanPa: mean(values)!, sdPa: sampleSd(values) ?? 0, n: values.length }
}
