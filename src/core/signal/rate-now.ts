// The newest pressure readings into the rate at which the pressure moves, and how unevenly.
import { criteria } from '../criteria.table.ts'
import type { PressureSample } from '../model/samples.ts'
import type { Series } from '../model/series.ts'
import { fitLine } from '../statistics/line.ts'

/** Slope of the readings of the last second (or `windowUs`), Pa/s; null for fewer than three, and where one is over range. */
export function rateNow(pressure: Series<PressureSample>, windowUs = criteria.rateWindowUs): number | null {
  const samples = newest(pressure, windowUs, criteria.rateReadings)
  return lineThrough(samples)?.slope ?? null
}

/** The rates that were the newest every `everyUs` up to now, oldest first and as they were worked out then, Pa/s; `count` at most. */
export function ratesUpToNow(pressure: Series<PressureSample>, everyUs: number, count: number): number[] {
  const { items } = pressure
  const rates: number[] = []
  let { length } = pressure
  for (let dueUs = items[length - 1]?.tUs ?? 0; rates.length < count && length > 0; dueUs -= everyUs) {
    while (length > 0 && items[length - 1]!.tUs > dueUs) length--
    const rate = rateNow({ items, length })
    if (rate === null) break
    rates.unshift(rate)
  }
  return rates
}

/**
 * Standard deviation about a straight line of readings that jerk to and fro over `windowS`, Pa; 0 where they run
 * smoothly, null where there are too few to tell.
 */
export function tremorPa(pressure: Series<PressureSample>, windowS: number): number | null {
  const samples = newest(pressure, windowS * 1e6, 0)
  const line = samples.length < criteria.tremorReadings ? null : lineThrough(samples)
  const last = samples.at(-1)
  if (!line || !last) return null
  let [side, crossings] = [0, 0]
  for (const { tUs, rawPa } of samples) {
    const off = rawPa - line.intercept - (line.slope * (tUs - last.tUs)) / 1e6
    // Noise about the line is no crossing.
    if (Math.abs(off) < criteria.tremorSds * line.residualSd) continue
    if (side !== 0 && Math.sign(off) !== side) crossings++
    side = Math.sign(off)
  }
  return crossings < criteria.tremorCrossings ? 0 : line.residualSd
}

/** Enough for any window here, and few enough to be looked at with each reading. */
const mostReadings = 400

function newest({ items, length }: Series<PressureSample>, windowUs: number, atLeast: number): PressureSample[] {
  const last = items[length - 1]
  if (!last || length === 0) return []
  let first = length
  while (first > 0 && length - first < mostReadings && items[first - 1]!.tUs >= last.tUs - windowUs) first--
  return items.slice(Math.max(0, Math.min(first, length - atLeast)), length)
}

function lineThrough(samples: readonly PressureSample[]) {
  const last = samples.at(-1)
  if (!last || samples.length < criteria.lineReadings || samples.some((s) => s.overRange)) return null
  return fitLine(
    samples.map((s) => (s.tUs - last.tUs) / 1e6),
    samples.map((s) => s.rawPa),
  )
}
