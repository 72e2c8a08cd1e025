// The moves of a plan into short pulls as a hand makes them: uneven, pausing, sticking, at its own pace.
import { type Cue, type HandPlan, type Move, movesOf } from './hand-plan.ts'
import type { Random } from './random.ts'

/** What the hand does next. A grip lasts `lastsS` at most, and ends earlier at `untilPa` (null = whatever the pressure); `slow`: through the trips. */
export type Grip =
  | { kind: 'cue'; cue: Cue }
  | { kind: 'vent'; lastsS: number }
  | { kind: 'draw'; ratePaPerS: number; lastsS: number; untilPa: number | null; slipMm: number; slow: boolean }

export type Hand = {
  /** The next grip, from the time and the pressure that the hand sees; null when the test is over. */
  grip(timeUs: number, pressurePa: number): Grip | null
  /** The switch snapped. */
  hear(timeUs: number): void
  /** It pauses now. */
  pause(forS: number): void
}

// A hand's rate changes about as often as it can be corrected by eye (common practice, no source).
const correctionS = 0.25

/** The hand of a plan; it makes the moves given, in order. */
export function createHand(
  plan: HandPlan,
  slipPa: (slipMm: number) => number,
  random: Random,
  moves: Iterable<Move> = movesOf(plan),
): Hand {
  const coming = moves[Symbol.iterator]()
  let current = coming.next()
  let begunUs: number | null = null
  let snappedUs: number | null = null
  let rising = true
  let wobble = 0
  let pace = 1
  let pausesS = 0
  let pauseUs = plan.pauses ? random.exponential(plan.pauses.everyS) * 1e6 : Number.POSITIVE_INFINITY

  function next(): void {
    current = coming.next()
    begunUs = null
  }

  const still = (lastsS: number, slipMm = 0, slow = false): Grip => ({
    kind: 'draw',
    ratePaPerS: 0,
    lastsS,
    untilPa: null,
    slipMm,
    slow,
  })

  function pullFurther(move: Extract<Move, { kind: 'pull' }>, timeUs: number, pressurePa: number): Grip | null {
    if (move.ratePaPerS > 0 !== rising) {
      rising = move.ratePaPerS > 0
      snappedUs = null
    }
    const slow = Math.abs(move.ratePaPerS) < plan.quickPaPerS
    const targetPa = snappedUs === null ? move.silentPa : move.toPa
    const leftPa = rising ? targetPa - pressurePa : pressurePa - targetPa
    let lastsS = correctionS
    if (move.stopAtSnap && snappedUs !== null) lastsS = Math.min(lastsS, plan.lingerS - (timeUs - snappedUs) / 1e6)
    // Half a microsecond: what is left of a time that was rounded to whole ones.
    if (leftPa <= 0 || lastsS <= 5e-7) return null
    if (pausesS > 0) {
      const forS = pausesS
      pausesS = 0
      return still(forS)
    }
    if (timeUs >= pauseUs && plan.pauses) {
      pauseUs = timeUs + (plan.pauses.forS + random.exponential(plan.pauses.everyS)) * 1e6
      return still(plan.pauses.forS)
    }
    if (plan.slipMm > 0) {
      const slipMm = plan.slipMm * random.between(0.5, 1.5)
      const onward = random.uniform() > 0.2
      const stickS = slipPa(slipMm) / Math.abs(move.ratePaPerS)
      return still(stickS, onward === rising ? slipMm : -slipMm, slow)
    }
    // Unevenness that dies out over a few corrections: a smooth hand rather than white noise.
    wobble = 0.7 * wobble + random.normal(plan.unevenness * Math.sqrt(1 - 0.7 ** 2))
    const ratePaPerS = move.ratePaPerS * (slow ? pace : 1) * Math.max(0.1, 1 + wobble)
    return { kind: 'draw', ratePaPerS, lastsS, untilPa: targetPa, slipMm: 0, slow }
  }

  return {
    grip(timeUs, pressurePa) {
      for (;;) {
        if (current.done) return null
        const move = current.value
        if (move.kind === 'cue') {
          if (move.cue === 'stroke' && plan.paceSpread > 0)
            pace = random.between(1 - plan.paceSpread, 1 + plan.paceSpread)
          next()
          return move
        }
        if (move.kind === 'pull') {
          const grip = pullFurther(move, timeUs, pressurePa)
          if (grip) return grip
          next()
          continue
        }
        begunUs ??= timeUs
        const lastsS = move.forS - (timeUs - begunUs) / 1e6
        if (lastsS > 5e-7) return move.kind === 'vent' ? { kind: 'vent', lastsS } : still(lastsS)
        next()
      }
    },
    hear(timeUs) {
      snappedUs = timeUs
    },
    pause(forS) {
      pausesS = forS
    },
  }
}
