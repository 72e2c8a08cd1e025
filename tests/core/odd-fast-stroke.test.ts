// Strokes that the part makes odd and the hand draws fast, which look like a hose at their pace.
import { expect, test } from 'vitest'
import { resultFrom } from '../harness/fold-events.ts'
import { makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

const session = (breakShiftPa: number, seed: number, { odd = [4], hoseS = 0 } = {}) =>
  resultFrom(
    makeForeignRecording({
      ...quietBench,
      cycles: 7,
      ratePaPerS: (stroke) => (odd.includes(stroke) ? 7 : stroke > 5 ? 3 : 1.2),
      breakShiftPa: (stroke) => (odd.includes(stroke) ? breakShiftPa : 0),
      hoseS,
      seed,
    }).events,
  )

test.each([1, 2, 3])('A break 14 Pa too low in one fast stroke is told, and no hose is made of it (%d).', (seed) => {
  const { verdict, lag, findings } = session(-14, seed)
  expect(verdict).not.toBe('pass')
  expect(lag!.valueS).toBeLessThan(0.2)
  expect(findings.some(({ code }) => ['odd-stroke', 'uncounted-strokes', 'spread'].includes(code))).toBe(true)
})

test.each([1, 2, 3])('Two such strokes are no hose either, as the brisk ones of this part show none (%d).', (seed) => {
  const { verdict, lag, break: low } = session(-14, seed, { odd: [3, 4] })
  expect(verdict).not.toBe('pass')
  expect(lag!.valueS).toBeLessThan(0.2)
  expect(low.UPa).toBeGreaterThan(2)
})

test('A hose that every fast stroke shows is taken off still.', () => {
  const { lag } = session(0, 1, { hoseS: 1 })
  expect(lag!.valueS).toBeGreaterThan(0.7)
  expect(lag!.valueS).toBeLessThan(1.3)
})
