import { expect, test } from 'vitest'
import { resultFrom } from '../../harness/fold-events.ts'
import { makeForeignRecording, quietBench } from '../../harness/foreign-recording.ts'

/** A display that shows no more than `mostPa`, though its data sheet says so. */
const clipped = (mostPa: number, flickerPa = 0) => {
  let i = 0
  return makeForeignRecording({
    ...quietBench,
    makePa: 66,
    ratePaPerS: (stroke) => [1.2, 1.2, 3][stroke % 3]!,
    line: (shownPa) => {
      const most = mostPa + flickerPa * (i++ % 2)
      return `${(-Math.min(most, Math.abs(shownPa)) / 249.08891).toFixed(3)} inH2O\r\n`
    },
  })
}
const codes = (recording: ReturnType<typeof clipped>) => resultFrom(recording.events).findings.map(({ code }) => code)

test.each([
  [63, 0],
  [63, 0.25],
  [64, 0],
])(
  'a display that goes no further than %d Pa (%d Pa more now and then) passes no part that makes beyond it',
  (mostPa, flickerPa) => {
    const result = resultFrom(clipped(mostPa, flickerPa).events)
    expect(result.verdict).not.toBe('pass')
    expect(codes(clipped(mostPa, flickerPa))).toContain('display-ceiling')
  },
)

test('a display that stops behind the make tells all that is needed', () => {
  expect(codes(clipped(69))).not.toContain('display-ceiling')
  expect(codes(clipped(1000))).toEqual([])
})

/** Above 64 Pa such a display rises by a share of the pressure only. */
const compressed = (share: number, makePa = 66, peakPa = 78) =>
  makeForeignRecording({
    ...quietBench,
    makePa,
    peakPa,
    digitPa: 0.1,
    ratePaPerS: (stroke) => [1.2, 1.2, 3][stroke % 3]!,
    line: (shownPa) => {
      const pa = Math.abs(shownPa)
      return `${(-(pa > 64 ? 64 + share * (pa - 64) : pa) / 249.08891).toFixed(4)} inH2O\r\n`
    },
  })

// A part that made 1.1 Pa above its limit passed on a display that went on by a fifth or a twentieth, each time.
test.each([0.2, 0.05])(
  'a display that goes on by %d of the pressure only, from below the make, passes no part',
  (share) => {
    const { verdict } = resultFrom(compressed(share).events)
    expect(verdict).not.toBe('pass')
    expect(codes(compressed(share))).toContain('display-ceiling')
  },
)

test('a part that makes high is not taken for it where the hand draws on well past its make', () => {
  expect(codes(compressed(1, 69))).not.toContain('display-ceiling')
})
