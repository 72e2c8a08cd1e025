// Samples in order of time into the middle one of the times between them.
import { median } from './mean.ts'

/** Median of the intervals between `samples`, µs; null for fewer than two. */
export function medianIntervalUs(samples: readonly { tUs: number }[]): number | null {
  const steps = new Float64Array(Math.max(0, samples.length - 1))
  for (let i = 0; i < steps.length; i++) steps[i] = samples[i + 1]!.tUs - samples[i]!.tUs
  return median(steps)
}
