// Samples in order of time into the middle one of the times between them.
import { type Timed, timesOf } from '../model/columns.ts'
import { medianOfOwn } from './mean.ts'

/** Median of the intervals between `samples`, µs; null for fewer than two. */
export function medianIntervalUs(samples: Timed): number | null {
  const timesUs = timesOf(samples)
  const steps = new Float64Array(Math.max(0, timesUs.length - 1))
  for (let i = 0; i < steps.length; i++) steps[i] = timesUs[i + 1]! - timesUs[i]!
  return medianOfOwn(steps)
}
