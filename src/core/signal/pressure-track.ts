// Raw pressure samples into the zeroed track that everything else reads: spikes out, repeats of a slow display out.
import { criteria } from '../criteria.table.ts'
import { Columns, columnOf, type Timed } from '../model/columns.ts'
import { isInRange, type Track } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { medianIntervalUs } from '../statistics/median-interval.ts'
import { type Zero, zeroAt } from './zero.ts'

/** The pressures with zero subtracted, over-range and single wild readings left out. */
export function zeroedTrack(samples: Columns<'tUs' | 'rawPa' | 'halfUs'>, zero: Zero, digitPa: number): Track {
  const { of, length } = samples.where((i) => isInRange(samples.of.rawPa[i]!)).part()
  const { tUs, rawPa, halfUs } = of
  const pressurePa = columnOf(length, (i) => rawPa[i]! - zeroAt(zero, tUs[i]!))
  const track = new Columns({ tUs, pressurePa, halfUs }, length)
  return track.where((i) => !isWild(pressurePa, i, zero.noisePa, digitPa))
}

/** Whether a reading stands out alone. Both neighbours on either side must lie close together: a step (the kick) or a fast stroke is not one. */
function isWild(pressuresPa: Float64Array, i: number, noisePa: number, digitPa: number): boolean {
  const a = pressuresPa[i - 2]
  const d = pressuresPa[i + 2]
  if (a === undefined || d === undefined) return false
  const b = pressuresPa[i - 1]!
  const c = pressuresPa[i + 1]!
  const widthPa = Math.max(a, b, c, d) - Math.min(a, b, c, d)
  const limitPa = Math.max(criteria.wildNoises * noisePa, criteria.wildDigits * digitPa, criteria.wildWidths * widthPa)
  // Of the four the two in the middle.
  const x = Math.max(Math.min(a, b), Math.min(c, d))
  const y = Math.min(Math.max(a, b), Math.max(c, d))
  const middlePa = Math.min(x, y) + Math.abs(y - x) / 2
  return Math.abs(pressuresPa[i]! - middlePa) > limitPa
}

/** How many samples from the first on are the same in both. */
export function samplesInCommon(a: Track, b: Track): number {
  const most = Math.min(a.length, b.length)
  let count = 0
  while (
    count < most &&
    a.of.tUs[count] === b.of.tUs[count] &&
    a.of.pressurePa[count] === b.of.pressurePa[count] &&
    a.of.halfUs[count] === b.of.halfUs[count]
  )
    count++
  return count
}

/** Pressure at `tUs` by straight lines between samples; the nearest end outside them, 0 for none. */
export function pressureAt(track: Columns<'tUs' | 'pressurePa'>, tUs: number): number {
  const { tUs: timesUs, pressurePa } = track.of
  const i = indexAt(track, tUs)
  if (i === 0 || i === track.length) return pressurePa[Math.min(i, track.length - 1)] ?? 0
  const aUs = timesUs[i - 1]!
  const aPa = pressurePa[i - 1]!
  return aPa + ((pressurePa[i]! - aPa) * (tUs - aUs)) / Math.max(1, timesUs[i]! - aUs)
}

/** Median of the intervals between samples, s; 0 for fewer than two. */
export function medianIntervalS(samples: Timed): number {
  return (medianIntervalUs(samples) ?? 0) / 1e6
}
