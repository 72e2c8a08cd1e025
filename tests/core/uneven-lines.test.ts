// Lines that come unevenly from a hand with sharp corners: what looks like a kick at each of them dates nothing.
import { expect, test } from 'vitest'
import type { Estimate } from '../../src/core/model/result.ts'
import { createRandom } from '../../src/simulation/random.ts'
import { createScriptedBench, scripted, sixStrokes } from '../harness/emulators/scripted-bench.ts'
import { resultFrom } from '../harness/fold-events.ts'
import { sampleStart } from '../harness/sample-start.ts'

const manometer = {
  driver: 'ascii-line',
  port: { path: 'a', baudRate: 115_200 },
  suctionSign: -1,
  digit: { value: 0.01, unit: 'Pa' },
  accuracy: { ofReading: 0, ofFullScale: 0.001, fullScale: { value: 250, unit: 'Pa' } },
}
const meter = { driver: 'ascii-line', port: { path: 'b', baudRate: 115_200 }, pair: 'com-no' }
const periodMs = 50

/** What two instruments say of six strokes, each line later than the one before by chance, as on a machine with other work. */
function unevenStrokes(seed: number): object[] {
  const random = createRandom(seed)
  let nowMs = 0
  const bench = createScriptedBench(sixStrokes, () => nowMs)
  bench.begin()
  const stall = () => (random.uniform() < 0.1 ? random.between(0, periodMs) : 0)
  const said = (['manometer', 'meter'] as const).flatMap((port) => {
    const lines: { type: 'rx'; t: number; port: string; text: string }[] = []
    for (nowMs = random.between(0, periodMs); !bench.isOver(); nowMs += periodMs + stall()) {
      const { suctionPa, closed } = bench.shows()
      const cameUs = Math.round(1000 * (nowMs - 15 * Math.log(1 - random.uniform())))
      const text = port === 'manometer' ? `${(-suctionPa).toFixed(2)} Pa\r\n` : closed ? '0.30 Ohm\r\n' : 'OL Ohm\r\n'
      lines.push({ type: 'rx', t: Math.max(cameUs, (lines.at(-1)?.t ?? 0) + 1), port, text })
    }
    return lines
  })
  said.sort((a, b) => a.t - b.t)
  return [
    { type: 'start', format: 1, ...sampleStart, purpose: 'free', rig: { manometer, meter } },
    ...said,
    { type: 'end', t: said.at(-1)!.t, reason: 'finished' },
  ]
}

const holds = ({ valuePa, UPa, allowLowPa, allowHighPa }: Estimate, truePa: number) =>
  valuePa! - truePa <= UPa! + (allowLowPa ?? 0) && truePa - valuePa! <= UPa! + (allowHighPa ?? 0)

test.for([1, 2, 3, 4, 5, 6, 7, 8])('make and break are where the bench has them (seed %i)', (seed) => {
  const result = resultFrom(unevenStrokes(seed))
  expect(result.acted).toMatchObject({ strokes: 6, made: 6, released: 6 })
  expect([holds(result.make, scripted.makePa), holds(result.break, scripted.breakPa)]).toEqual([true, true])
})
