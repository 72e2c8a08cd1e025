// Time into what a scripted bench shows: strokes of one shape, and a switch that makes and breaks at known pressures.
import type { Shown } from './emulator.ts'

/** Where its switch makes and breaks, Pa, and how fast the pressure goes there unless a stroke is faster, Pa/s. */
export const scripted = { makePa: 62, breakPa: 47, pacePaPerS: 14 }

/** A straight line from where the last one ended to `toPa`, in `forS`. */
type Leg = { toPa: number; forS: number }

const rest = (forS: number): Leg => ({ toPa: 0, forS })

/** Quick, slow about the make, held, quick, slow about the break, quick. `pace`: how many times as fast about both. */
const stroke = ({ pace = 1, holdS = 0 } = {}): Leg[] => [
  { toPa: 55, forS: 0.3 },
  { toPa: 55 + scripted.pacePaPerS, forS: 1 / pace },
  { toPa: 76, forS: 0.2 },
  { toPa: 76, forS: holdS },
  { toPa: 54, forS: 0.3 },
  { toPa: 54 - scripted.pacePaPerS, forS: 1 / pace },
  // Let go at once: a slower fall leaves open that the display averages over as long.
  { toPa: 0, forS: 0.05 },
  rest(0.95),
]

const times = (count: number, legs: Leg[]): Leg[] => Array.from({ length: count }, () => legs).flat()

/** Six strokes. */
export const sixStrokes: Leg[] = [rest(1.5), ...times(6, stroke()), rest(1)]

/** All that a test asks for with one stroke of preconditioning: a zero, the first stroke, a held one, five cycles, two faster ones, a zero. */
export const wholeTest: Leg[] = [
  rest(12),
  ...stroke(),
  ...stroke({ holdS: 11 }),
  ...times(5, stroke()),
  ...times(2, stroke({ pace: 3 })),
  rest(30),
]

export type ScriptedBench = {
  /** The script begins, now. */
  begin(): void
  shows(): Shown
  isOver(): boolean
}

/** A bench at rest until it begins; what it shows then follows the clock (ms), and not how often it is looked at. */
export function createScriptedBench(script: readonly Leg[], now = () => performance.now()): ScriptedBench {
  const madeMs = now()
  let beganMs = Number.POSITIVE_INFINITY
  const sinceS = () => Math.max(0, (now() - beganMs) / 1000)
  return {
    begin() {
      beganMs = now()
    },
    shows() {
      const timeUs = (now() - madeMs) * 1000
      const { pressurePa, closed } = stateAt(script, sinceS())
      // A display that never moves would be taken for a frozen one.
      return { suctionPa: pressurePa + 0.02 * Math.sin(timeUs), closed, timeUs }
    },
    isOver: () => sinceS() > script.reduce((sum, { forS }) => sum + forS, 0),
  }
}

function stateAt(script: readonly Leg[], tS: number): { pressurePa: number; closed: boolean } {
  let [fromS, fromPa, closed] = [0, 0, false]
  for (const { toPa, forS } of script) {
    const share = forS === 0 ? 1 : Math.min(1, (tS - fromS) / forS)
    const pressurePa = fromPa + (toPa - fromPa) * share
    if (pressurePa >= scripted.makePa) closed = true
    if (pressurePa < scripted.breakPa) closed = false
    if (tS < fromS + forS) return { pressurePa, closed }
    fromS += forS
    fromPa = toPa
  }
  return { pressurePa: fromPa, closed }
}
