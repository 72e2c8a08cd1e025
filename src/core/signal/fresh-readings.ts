// A pressure track into the readings that carry news: a display that repeats itself, or a digit too coarse for the ramp.
import { criteria } from '../criteria.table.ts'
import { Columns, columnsOf, type Row } from '../model/columns.ts'
import type { Track } from '../model/samples.ts'
import { medianOfOwn } from '../statistics/mean.ts'

/** `extraVar`: variance of each reading beyond the noise, Pa²: what a digit change leaves open. */
export type FreshReadings = Columns<'tUs' | 'pressurePa' | 'halfUs' | 'extraVar'>

export type Freshness = 'every' | 'refreshed' | 'digit-steps'

/** Where each run of equal readings begins. It ends before the next one. */
function runStarts({ of, length }: Track, digitPa: number): Uint32Array {
  const starts = new Uint32Array(length)
  const { pressurePa } = of
  const leastPa = criteria.sameDigits * digitPa
  let count = 0
  for (let i = 0; i < length; i++)
    if (i === 0 || !(Math.abs(pressurePa[i]! - pressurePa[i - 1]!) < leastPa)) starts[count++] = i
  return starts.subarray(0, count)
}

/**
 * How the readings above `restPa` renew themselves while the pressure moves steadily. `refreshed`: equal runs of two or more, and
 * leaps of more than one digit between them: the display renews less often than it sends. `digit-steps`: runs of three
 * or more, one digit apart: the digit is coarser than what the ramp does between readings.
 */
export function freshness(track: Track, digitPa: number, restPa: number): Freshness {
  const starts = runStarts(track, digitPa)
  const { pressurePa } = track.of
  const lengths = new Float64Array(starts.length)
  const steps = new Float64Array(starts.length)
  let count = 0
  for (let i = 1; i + 1 < starts.length; i++) {
    const here = starts[i]!
    const after = starts[i + 1]!
    const value = pressurePa[here]!
    const up = value - pressurePa[starts[i - 1]!]!
    const on = pressurePa[after]! - value
    if (value < restPa || up * on <= 0) continue
    lengths[count] = after - here
    steps[count++] = Math.abs(up)
  }
  if (count < criteria.renewalRuns) return 'every'
  const length = medianOfOwn(lengths.subarray(0, count)) ?? 1
  const leaps = () => (medianOfOwn(steps.subarray(0, count)) ?? 0) > criteria.leapDigits * digitPa
  if (length >= criteria.repeatedReadings && leaps()) return 'refreshed'
  return length >= criteria.stayingReadings ? 'digit-steps' : 'every'
}

/**
 * The readings that carry news. Of a repeating display the first of each run: the moment it was renewed. Of a coarse digit the
 * crossings: between two readings one digit apart the pressure passed the middle; a leap or a turn tells only the new digit.
 */
export function freshReadings(track: Track, digitPa: number, kind: Freshness): FreshReadings {
  if (kind === 'every') return new Columns({ ...track.of, extraVar: new Float64Array(track.length) }, track.length)
  const starts = runStarts(track, digitPa)
  if (kind === 'digit-steps') return columnsOf(freshColumns, digitCrossings(track, starts, digitPa))
  return columnsOf(
    freshColumns,
    Array.from(starts, (first) => ({ ...track.at(first)!, extraVar: 0 })),
  )
}

const freshColumns = ['tUs', 'pressurePa', 'halfUs', 'extraVar'] as const

function digitCrossings(track: Track, starts: Uint32Array, digitPa: number): Row<(typeof freshColumns)[number]>[] {
  const out: Row<(typeof freshColumns)[number]>[] = []
  const whole = digitPa ** 2 / 12
  const { tUs } = track.of
  let before: { first: number; last: number } | null = null
  let direction = 0
  for (const [i, first] of starts.entries()) {
    const run = { first, last: (starts[i + 1] ?? track.length) - 1 }
    // Flicker between two digits at a crossing makes short runs.
    if (run.last - run.first + 1 < criteria.stayingReadings) continue
    if (before !== null) {
      const last = track.at(before.last)!
      const next = track.at(run.first)!
      const step = next.pressurePa - last.pressurePa
      if (Math.abs(step) < criteria.sameDigits * digitPa) {
        before = { first: before.first, last: run.last }
        continue
      }
      const onward = step * direction >= 0 && Math.abs(step) < criteria.leapDigits * digitPa
      if (onward) {
        // Somewhere in the flicker, at the pace that the digits before and after show.
        const flickerUs = next.tUs - last.tUs
        const spanUs = Math.max(1, tUs[run.last]! - tUs[before.first]!) / 2
        const middle = { tUs: (last.tUs + next.tUs) / 2, pressurePa: (last.pressurePa + next.pressurePa) / 2 }
        out.push({ ...middle, halfUs: 0, extraVar: (digitPa * Math.min(1, flickerUs / spanUs)) ** 2 / 12 })
      } else out.push({ ...last, extraVar: whole }, { ...next, extraVar: whole })
      direction = Math.sign(step)
    }
    before = run
  }
  return out
}
