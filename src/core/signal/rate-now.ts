// The newest pressure readings into the rate at which the pressure moves, and how unevenly.
import { criteria } from '../criteria.table.ts'
import { isInRange } from '../model/samples.ts'
import { fitLine } from '../statistics/line.ts'
import type { RawRows } from './zero.ts'

/** Slope of the readings of the last second (or `windowUs`), Pa/s; null for fewer than three, and where one is over range. `length`: of them, the first so many. */
export function rateNow(pressure: RawRows, windowUs = criteria.rateWindowUs, length = pressure.length): number | null {
  return lineThrough(pressure, firstOf(pressure, length, windowUs, criteria.rateReadings), length)?.slope ?? null
}

/** The rates that were the newest every `everyUs` up to now, oldest first and as they were worked out then, Pa/s; `count` at most. */
export function ratesUpToNow(pressure: RawRows, everyUs: number, count: number): number[] {
  const { tUs } = pressure.of
  const rates: number[] = []
  let { length } = pressure
  for (let dueUs = tUs[length - 1] ?? 0; rates.length < count && length > 0; dueUs -= everyUs) {
    while (length > 0 && tUs[length - 1]! > dueUs) length--
    const rate = rateNow(pressure, criteria.rateWindowUs, length)
    if (rate === null) break
    rates.unshift(rate)
  }
  return rates
}

/**
 * Standard deviation about a straight line of readings that jerk to and fro over `windowS`, Pa; 0 where they run
 * smoothly, null where there are too few to tell.
 */
export function tremorPa(pressure: RawRows, windowS: number): number | null {
  const { of, length } = pressure
  const first = firstOf(pressure, length, windowS * 1e6, 0)
  const line = length - first < criteria.tremorReadings ? null : lineThrough(pressure, first, length)
  if (!line) return null
  const lastUs = of.tUs[length - 1]!
  let [side, crossings] = [0, 0]
  for (let i = first; i < length; i++) {
    const off = of.rawPa[i]! - line.intercept - (line.slope * (of.tUs[i]! - lastUs)) / 1e6
    // Noise about the line is no crossing.
    if (Math.abs(off) < criteria.tremorSds * line.residualSd) continue
    if (side !== 0 && Math.sign(off) !== side) crossings++
    side = Math.sign(off)
  }
  return crossings < criteria.tremorCrossings ? 0 : line.residualSd
}

/** Enough for any window here, and few enough to be looked at with each reading. */
const mostReadings = 400

/** Place of the first reading of the window that ends with the newest of the first `length`. */
function firstOf({ of: { tUs } }: RawRows, length: number, windowUs: number, atLeast: number): number {
  let first = length
  while (first > 0 && length - first < mostReadings && tUs[first - 1]! >= tUs[length - 1]! - windowUs) first--
  return Math.max(0, Math.min(first, length - atLeast))
}

/** The line through the readings from `first` up to `length`. */
function lineThrough({ of }: RawRows, first: number, length: number) {
  if (length - first < criteria.lineReadings) return null
  const [tUs, rawPa] = [of.tUs.subarray(first, length), of.rawPa.subarray(first, length)]
  if (!rawPa.every(isInRange)) return null
  const lastUs = of.tUs[length - 1]!
  return fitLine(
    tUs.map((atUs) => (atUs - lastUs) / 1e6),
    rawPa,
  )
}
