// Times of an instrument's own clock and the arrivals of its lines into times of the host: the straight line under the arrivals, block by block.
import { criteria } from '../criteria.table.ts'
import { lowestAhead } from '../statistics/lowest-ahead.ts'
import { median } from '../statistics/mean.ts'

/** Each reading was taken within `halfUs` of `tUs`, less a delay that all of them share. */
type Times = { tUs: Float64Array; halfUs: Float64Array }

/**
 * The times of readings that an instrument dated by its own clock, µs, none later than its arrival. The clock may run fast or
 * slow, begin again, stop or leap; a block of it is placed by the arrivals of its own lines and of those in the block
 * before, so that a block that is over stays where it is. Arrivals stay as they are where there are too few for a line.
 */
export function clockTimes(cameUs: Float64Array, deviceUs: Float64Array): Times {
  const times = { tUs: cameUs.slice(), halfUs: new Float64Array(cameUs.length) }
  const blockUs = criteria.clockBlockS * 1e6
  for (const [from, to] of unbroken(cameUs, deviceUs)) {
    const blockOf = (i: number) => Math.floor((deviceUs[i]! - deviceUs[from]!) / blockUs)
    for (let [before, start, end] = [from, from, from]; start < to; [before, start] = [start, end]) {
      while (end < to && blockOf(end) === blockOf(start)) end++
      const first = blockOf(before) === blockOf(start) - 1 ? before : start
      if (end - first >= criteria.beatLines) placeBlock(cameUs, deviceUs, { first, start, end }, times)
    }
  }
  return times
}

/** Stretches [from, to) of lines in which the clock went on by itself: it never went back, and neither gained nor lost much at once for good. */
function* unbroken(cameUs: Float64Array, deviceUs: Float64Array): Generator<[from: number, to: number]> {
  const leapUs = criteria.clockLeapS * 1e6
  const { length } = cameUs
  for (let from = 0, to = 0; from < length; from = to) {
    for (to = from + 1; to < length; to++) {
      const stepUs = deviceUs[to]! - deviceUs[to - 1]!
      if (stepUs < 0 || stepUs - (cameUs[to]! - cameUs[to - 1]!) > leapUs) break
    }
    const offsUs = cameUs.subarray(from, to).map((came, i) => came - deviceUs[from + i]!)
    const everyUs = (deviceUs[to - 1]! - deviceUs[from]!) / (to - from)
    const reach = Math.max(criteria.beatLines, everyUs > 0 ? Math.ceil((criteria.beatS * 1e6) / everyUs) : 0)
    // A machine that was held up comes back to where it was; a clock that stopped does not.
    const levelsUs = lowestAhead(offsUs, reach)
    let start = from
    for (let i = from + 1; i < to; i++)
      if (levelsUs[i - from]! - levelsUs[i - from - 1]! > leapUs) {
        yield [start, i]
        start = i
      }
    yield [start, to]
  }
}

/** In simulated blocks of 5 to 1 000 lines a second the line lies too late by up to so many times what is open, and too early by one. */
const tooLate = 3

/** Places the lines from `start` to `end` by the line under the arrivals of those from `first` to `end`. */
function placeBlock(
  cameUs: Float64Array,
  deviceUs: Float64Array,
  { first, start, end }: { first: number; start: number; end: number },
  { tUs, halfUs }: Times,
): void {
  const count = end - first
  const ranUs = deviceUs.subarray(first, end).map((atUs) => atUs - deviceUs[first]!)
  const offsUs = cameUs.subarray(first, end).map((atUs, i) => atUs - cameUs[first]! - ranUs[i]!)
  const skew = slopeUnder(ranUs, offsUs)
  const lateUs = offsUs.map((off, i) => off - skew * ranUs[i]!)
  const levelUs = lateUs.reduce((a, b) => Math.min(a, b))
  const openUs = lowestOfParts(lateUs) - levelUs
  for (let i = start - first; i < count; i++) {
    // The least delay seen is above the least there is; where the line was drawn too steep it lies below it at one end.
    const punctualUs = cameUs[first + i]! - (lateUs[i]! - levelUs)
    const fromUs = punctualUs - tooLate * openUs
    const toUs = Math.min(punctualUs + openUs, cameUs[first + i]!)
    tUs[first + i] = (fromUs + toUs) / 2
    halfUs[first + i] = (toUs - fromUs) / 2
  }
}

/**
 * The slope of the highest line that lies under all points and is nearest to them: the edge of their lower hull at the mean of `xs`,
 * which never decrease (Moon, Skelly and Towsley, INFOCOM 1999: the estimate of a clock's skew by linear programming). No
 * steeper than a clock runs wrong.
 */
function slopeUnder(xs: Float64Array, ys: Float64Array): number {
  const hull: number[] = []
  /** How steep the hull is up to each of its points. */
  const slopes: number[] = []
  const slopeTo = (i: number) => {
    const from = hull.at(-1)
    return from === undefined ? Number.NEGATIVE_INFINITY : (ys[i]! - ys[from]!) / (xs[i]! - xs[from]!)
  }
  const drop = () => [hull.pop(), slopes.pop()]
  let sum = 0
  for (let i = 0; i < xs.length; i++) {
    sum += xs[i]!
    const top = hull.at(-1)
    if (top !== undefined && xs[top] === xs[i]) {
      if (ys[top]! <= ys[i]!) continue
      drop()
    }
    while (hull.length > 1 && slopeTo(i) <= slopes.at(-1)!) drop()
    slopes.push(slopeTo(i))
    hull.push(i)
  }
  const mean = sum / xs.length
  const after = hull.findIndex((i) => xs[i]! > mean)
  if (after < 1) return 0
  return Math.max(-criteria.clockSkew, Math.min(criteria.clockSkew, slopes[after]!))
}

/** The lowest value of each part of the row, and of these the middle one: how far it usually stays above its lowest. */
function lowestOfParts(values: Float64Array): number {
  const size = Math.ceil(values.length / criteria.clockParts)
  const lowest: number[] = []
  for (let i = 0; i < values.length; i += size)
    lowest.push(values.subarray(i, i + size).reduce((a, b) => Math.min(a, b)))
  return median(lowest)!
}
