// When bytes are on the wire into when the program gets them: an adapter's timer, clumps, lines held back, a machine that stalls.
import type { PortName } from '../core/model/rig.ts'
import type { Random } from './random.ts'
import type { Arrival } from './wire-time.ts'

export type LinkTruth = {
  port: PortName
  /** The adapter hands over what it has at each tick of a timer of this period; 0 = at once. */
  timerS: number
  /** Everything comes in clumps, about so far apart; null = it does not. */
  clumps: { everyS: number; jitterS: number } | null
  /** The end of a line is only seen when the next one begins to arrive. */
  heldBack: boolean
}

/** The machine is busy with something else for a while, now and then; all ports wait. */
export type StallTruth = { everyS: number; fromS: number; toS: number }

export type Stalls = { over(timeUs: number): number }

/** A time into the same, or into the end of the stall it falls into. Times may come in any order, each port being a little off the others. */
export function createStalls(truth: StallTruth | null, random: Random): Stalls {
  const spans: { startUs: number; endUs: number }[] = []
  let drawnUs = 0
  return {
    over(timeUs) {
      if (!truth) return timeUs
      while (drawnUs <= timeUs) {
        const startUs = Math.round(drawnUs + random.exponential(truth.everyS) * 1e6)
        const endUs = Math.round(startUs + random.between(truth.fromS, truth.toS) * 1e6)
        spans.push({ startUs, endUs })
        drawnUs = endUs
      }
      return spans.findLast((span) => span.startUs <= timeUs && timeUs < span.endUs)?.endUs ?? timeUs
    },
  }
}

export type LinkDelays = {
  /** What the program gets by this arrival, and when. */
  pass(arrival: Arrival): Arrival[]
}

export function createLinkDelays(truth: LinkTruth | null, stalls: Stalls, random: Random): LinkDelays {
  const timerUs = (truth?.timerS ?? 0) * 1e6
  const phaseUs = random.between(0, timerUs)
  let clumpUs = 0
  let held: Arrival | null = null
  let lastUs = 0

  function late(timeUs: number): number {
    let atUs = timeUs
    if (timerUs > 0) atUs = Math.ceil((atUs - phaseUs) / timerUs) * timerUs + phaseUs
    if (truth?.clumps) {
      const { everyS, jitterS } = truth.clumps
      while (clumpUs < atUs) clumpUs += 1e6 * Math.max(0.1 * everyS, everyS + random.normal(jitterS))
      atUs = clumpUs
    }
    // Bytes of one port never overtake each other.
    lastUs = Math.max(lastUs, stalls.over(Math.round(atUs)))
    return lastUs
  }

  return {
    pass(arrival) {
      if (!truth?.heldBack) return [{ ...arrival, timeUs: late(arrival.timeUs) }]
      const before = held
      held = arrival
      return before ? [{ ...before, timeUs: late(arrival.timeUs) }] : []
    },
  }
}
