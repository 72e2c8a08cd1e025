import { expect, test } from 'vitest'
import type { RecordedEvent } from '../src/core/model/event.ts'
import { runSession } from '../src/session.ts'

const tick = (t: number): RecordedEvent => ({ type: 'tick', t })
async function* batches(...list: RecordedEvent[][]) {
  yield* list
}

test('each event is stepped once, and the state is published once a batch', async () => {
  const published: number[][] = []
  const last = await runSession<number[]>({
    source: batches([tick(1), tick(2)], [tick(3)]),
    initial: [],
    step: (state, event) => [...state, 't' in event ? (event.t as number) : -1],
    publish: (state) => published.push(state),
  })
  expect(published).toEqual([
    [1, 2],
    [1, 2, 3],
  ])
  expect(last).toEqual([1, 2, 3])
})

test('a source that gives nothing leaves the initial state', async () => {
  expect(await runSession({ source: batches(), initial: 'as it was', step: () => 'stepped' })).toBe('as it was')
})

test('what the source throws comes out after what came before it was published', async () => {
  const published: number[] = []
  async function* failing() {
    yield [tick(1)]
    throw new Error('no more')
  }
  const run = runSession({
    source: failing(),
    initial: 0,
    step: (n: number) => n + 1,
    publish: (n) => published.push(n),
  })
  await expect(run).rejects.toThrow('no more')
  expect(published).toEqual([1])
})
