// Events handed out at their pace, in their order, and at once when asked.
import { expect, test } from 'vitest'
import { pace } from '../../src/commands/pace.ts'
import type { RecordedEvent } from '../../src/core/model/event.ts'

const tick = (t: number): RecordedEvent => ({ type: 'tick', t })
async function* batchesOf(...batches: RecordedEvent[][]): AsyncGenerator<RecordedEvent[]> {
  yield* batches
}

test('no event is lost, doubled or out of order, however they come', async () => {
  const events = Array.from({ length: 40 }, (_, i) => tick(i * 100_000))
  const got: RecordedEvent[] = []
  const source = batchesOf(events.slice(0, 1), events.slice(1, 30), [], events.slice(30))
  for await (const batch of pace(source, 20, new AbortController().signal)) got.push(...batch)
  expect(got).toEqual(events)
})

test('once hurried, the rest comes without waiting', async () => {
  const hurry = new AbortController()
  const hour = [tick(0), tick(3_600_000_000), tick(7_200_000_000)]
  const got: RecordedEvent[] = []
  for await (const batch of pace(batchesOf(hour), 1, hurry.signal)) {
    got.push(...batch)
    hurry.abort()
  }
  expect(got).toEqual(hour)
})
