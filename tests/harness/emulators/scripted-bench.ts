// Time into what a short scripted bench shows: strokes of one shape, and a switch that makes and breaks at known pressures.
import type { Shown } from './emulator.ts'

/** Where its switch makes and breaks, Pa. */
export const scripted = { makePa: 62, breakPa: 47 }

/** A stroke: from each point straight to the next, s and Pa. Quick, slow about the make, slow about the break, quick, rest. */
const stroke = [
  [0, 0],
  [0.3, 55],
  [1.3, 69],
  [1.5, 76],
  [1.8, 54],
  [2.8, 40],
  [3.1, 0],
  [3.8, 0],
] as const
const restS = 1.5
const strokeS = 3.8
const strokes = 6

export type ScriptedBench = {
  /** The script begins at rest, now. */
  begin(): void
  shows(): Shown
  isOver(): boolean
}

/** A bench at rest until it begins; what it shows then follows the clock, and not how often it is looked at. */
export function createScriptedBench(): ScriptedBench {
  const madeMs = performance.now()
  let beganMs = Number.POSITIVE_INFINITY
  const sinceS = () => (performance.now() - beganMs) / 1000 - restS
  return {
    begin() {
      beganMs = performance.now()
    },
    shows() {
      const tS = sinceS()
      const inS = tS < 0 || tS > strokes * strokeS ? 0 : tS % strokeS
      return {
        suctionPa: suctionAt(inS),
        closed: inS >= timeOf(scripted.makePa, 1) && inS < timeOf(scripted.breakPa, 4),
        timeUs: (performance.now() - madeMs) * 1000,
      }
    },
    isOver: () => sinceS() > strokes * strokeS + restS,
  }
}

function suctionAt(tS: number): number {
  const leg = Math.max(
    0,
    stroke.findLastIndex(([fromS]) => fromS <= tS),
  )
  const [from, to = from] = [stroke[leg]!, stroke[leg + 1]]
  if (to === from) return from[1]
  return from[1] + ((to[1] - from[1]) * (tS - from[0])) / (to[0] - from[0])
}

/** When the leg of that number goes through a pressure, s into a stroke. */
function timeOf(pressurePa: number, leg: number): number {
  const [from, to] = [stroke[leg]!, stroke[leg + 1]!]
  return from[0] + ((to[0] - from[0]) * (pressurePa - from[1])) / (to[1] - from[1])
}
