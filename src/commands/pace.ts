// Recorded events into the same events at the pace at which they happened, faster or slower as asked.
import { setTimeout as wait } from 'node:timers/promises'
import type { RecordedEvent } from '../core/model/event.ts'

/** Drawn at 10 Hz: waking more often would show nothing more. */
const stepMs = 50

/** `batches` with each event held back until its time, `speed` times as fast; once `hurry` is aborted the rest comes at once. */
export async function* pace(
  batches: AsyncIterable<readonly RecordedEvent[]>,
  speed: number,
  hurry: AbortSignal,
): AsyncGenerator<RecordedEvent[]> {
  const startMs = performance.now()
  let due: RecordedEvent[] = []
  for await (const batch of batches) {
    for (const event of batch) {
      const aheadMs = timeUs(event) / 1000 / speed - (performance.now() - startMs)
      if (aheadMs > stepMs && !hurry.aborted) {
        yield due
        due = []
        await wait(aheadMs, undefined, { signal: hurry }).catch(() => {})
      }
      due.push(event)
    }
  }
  yield due
}

/** What has no time of its own is told at once. */
function timeUs(event: RecordedEvent): number {
  return event.type === 'start' || event.type === 'corrupt' || event.type === 'torn' ? 0 : event.t
}
