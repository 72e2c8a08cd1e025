// `npm run bench:clock`: lines behind 16 ms of USB jitter, dated with their instrument's clock and without: RMS error of their times, a constant delay apart; exit status 1 when a bar is missed.
import { columnsOf } from '../../src/core/model/columns.ts'
import { heardColumns } from '../../src/core/model/samples.ts'
import { placeInTime } from '../../src/core/signal/instrument-times.ts'
import { createRandom } from '../harness/foreign-recording.ts'

const barsMs = { withClock: 1, without: 4 }
const [jitterUs, seeds] = [16_000, 2]
const lastsS = (rate: number) => Math.min(600, 60_000 / rate)
const linesPerS = [5, 10, 20, 50, 62.5, 100, 200, 1000]
const skews = [-200e-6, -20e-6, 0, 20e-6, 200e-6]
/** How a link makes lines late: the adapter's timer, or by chance; lines never overtake each other. */
const links = {
  'timer of 16 ms': (tUs: number) => Math.ceil(tUs / jitterUs) * jitterUs,
  'up to 16 ms': (tUs: number, chance: number) => tUs + jitterUs * chance,
}

/**
 * Lines that meet the adapter's timer at a few of its phases only march in step with it: their delay then drifts with the
 * clocks, within the ms between two phases, and no line tells that from a clock that runs wrong. Not held against the bar.
 */
const inStep = (link: string, rate: number) => link.startsWith('timer') && commonUs(1e6 / rate, jitterUs) > 2000
const commonUs = (a: number, b: number): number => (b === 0 ? a : commonUs(b, a % b))

/** RMS error of the times, ms; the instrument takes a value each period, give or take 0.2 ms. */
function errorsMs(rate: number, delay: (tUs: number, chance: number) => number, skew: number, seed: number) {
  const random = createRandom(seed)
  const periodUs = 1e6 / rate
  let cameUs = 0
  const lines = Array.from({ length: Math.round(lastsS(rate) * rate) }, (_, i) => {
    // A period of the instrument's own clock, which runs fast by the skew.
    const takenUs = 1e6 + 7919 * seed + (i * periodUs) / (1 + skew) + 400 * (random.uniform() - 0.5)
    cameUs = Math.max(cameUs, delay(takenUs + 1500, random.uniform()))
    const deviceUs = Math.round(3e6 + takenUs * (1 + skew))
    return { tUs: cameUs, line: i + 1, askedUs: null, waitingUs: null, deviceUs, takenUs }
  })
  const rmsMs = (timesUs: ArrayLike<number>) => {
    const lateUs = lines.map(({ takenUs }, i) => timesUs[i]! - takenUs)
    const mean = lateUs.reduce((a, b) => a + b, 0) / lateUs.length
    return Math.sqrt(lateUs.reduce((sum, late) => sum + (late - mean) ** 2, 0) / lateUs.length) / 1000
  }
  const placed = (rows: typeof lines | (Omit<(typeof lines)[number], 'deviceUs'> & { deviceUs: null })[]) =>
    placeInTime(columnsOf(heardColumns, rows), [], (i) => i).tUs
  return {
    came: rmsMs(lines.map((l) => l.tUs)),
    withClock: rmsMs(placed(lines)),
    without: rmsMs(placed(lines.map((l) => ({ ...l, deviceUs: null })))),
  }
}

console.log(
  `RMS error of up to 600 s of lines, ms: the worst of ${skews.length} clocks within 200 ppm and ${seeds} seeds`,
)
console.log(
  `link             lines/s   as they came   with clock (bar ${barsMs.withClock})   without (bar ${barsMs.without})`,
)
let missed = 0
for (const [link, delay] of Object.entries(links))
  for (const rate of linesPerS) {
    const found = skews.flatMap((skew) => Array.from({ length: seeds }, (_, i) => errorsMs(rate, delay, skew, i + 1)))
    const worst = (name: keyof (typeof found)[number]) => Math.max(...found.map((errors) => errors[name]))
    const cell = (name: 'withClock' | 'without', width: number) => {
      const isOver = worst(name) > barsMs[name]
      const isMissed = isOver && !inStep(link, rate)
      if (isMissed) missed++
      return `${worst(name).toFixed(2)}${isMissed ? ' MISSED' : isOver ? ' in step' : ''}`.padStart(width)
    }
    console.log(
      `${link.padEnd(16)}${String(rate).padStart(8)}${worst('came').toFixed(2).padStart(15)}${cell('withClock', 21)}${cell('without', 18)}`,
    )
  }
console.log(missed === 0 ? 'All bars met.' : `${missed} bars missed.`)
process.exitCode = missed === 0 ? 0 : 1
