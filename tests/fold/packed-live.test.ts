// What the worker sends of a live test: the same view on the other side, and never more than 64 kB.
import { serialize } from 'node:v8'
import { expect, test } from 'vitest'
import { packLive, unpackLive } from '../../src/fold/packed-live.ts'
import { sampleLive, sampleResult } from '../terminal/sample-lives.ts'

const overThere = <T>(message: T): T => structuredClone(message)

test('a view comes out on the other side as it was, the unknown states of the trace too', () => {
  const live = sampleLive(130)
  const [first, ...rest] = live.trace
  const unsure = { ...live, trace: [{ ...first!, actuated: null }, ...rest] }
  expect(unpackLive(overThere(packLive(unsure)))).toEqual(unsure)
})

test('the fullest view, 1200 points and the 100 strokes that a test may have, is sent in 64 kB', () => {
  const full = sampleLive(120, { result: sampleResult(100) })
  const points = Array.from({ length: 1200 }, (_, i) => ({ ...full.trace[i % full.trace.length]!, tS: i / 10 + 0.01 }))
  expect(serialize(packLive({ ...full, trace: points })).length).toBeLessThan(65_536)
})
