// The hand on the syringe: a plan of strokes into moves, and each move into short pulls as a hand makes them.
import type { MarkName } from '../core/model/marks.ts'

import type { Random } from './random.ts'

export type HandPlan = {
  zeroS: number
  /** Strokes counted as preconditioning and as cycles, after the first stroke. */
  preconditioning: number
  cycles: number
  /** After the cycles: so many more, `briskFactor` times as fast as the first slow rate. */
  briskStrokes: number
  briskFactor: number
  restS: number
  quickPaPerS: number
  /** Rate through the trip region; counted cycles take them in turn, the strokes before take the first. */
  slowPaPerS: readonly number[]
  /** The trip region, as parts of the expected make and break. */
  slowFrom: number
  slowTo: number
  expectedMakePa: number
  expectedBreakPa: number
  peakPa: number
  /** Where the hand gives up on a switch that has not snapped. */
  giveUpPa: number
  /** How long the slow rate goes on after the snap was heard. */
  lingerS: number
  peakHoldS: number
  /** In the last preconditioning stroke: hold at `leakHoldPa` this long, marked `hold`; 0 = no hold. */
  holdInPreconditionS: number
  /** In the last cycle: hold the peak this long, marked `hold`. */
  holdS: number
  /** After the last cycle: draw to `leakHoldPa` and hold this long, marked `leak-hold`. */
  leakHoldS: number
  leakHoldPa: number
  /** Relative unevenness of the rate (standard deviation), and pauses of the hand. */
  unevenness: number
  pauses: { everyS: number; forS: number } | null
  /** In the trip region the hand goes back by this much once, in each stroke; 0 = never. */
  reversalPa: number
  /** The plunger sticks and slips by about this much, one time in five the wrong way; 0 = it glides. */
  slipMm: number
}

export type Move =
  | { kind: 'cue'; cue: MarkName | 'stroke' }
  | { kind: 'vent' | 'hold'; forS: number }
  | { kind: 'pull'; ratePaPerS: number; toPa: number; silentPa: number; stopAtSnap: boolean }

/** Rate through the trips of a cycle, counted from 0: the slow ones, then the brisk ones. */
export function cyclePaPerS({ cycles, briskStrokes, briskFactor, slowPaPerS }: HandPlan, cycle: number): number {
  if (cycle >= cycles && cycle < cycles + briskStrokes) return briskFactor * slowPaPerS[0]!
  return slowPaPerS[cycle % slowPaPerS.length]!
}

/** The whole test as moves: zero, first stroke, preconditioning, cycles, closing zero, with the marks of its flow. */
export function movesOf(plan: HandPlan): Move[] {
  const cue = (name: MarkName | 'stroke'): Move => ({ kind: 'cue', cue: name })
  const { preconditioning, cycles, briskStrokes } = plan
  const moves: Move[] = [cue('zero'), { kind: 'vent', forS: plan.zeroS }, cue('first-stroke')]
  moves.push(...stroke(plan, cyclePaPerS(plan, 0), 0))
  if (preconditioning > 0) moves.push(cue('precondition'))
  for (let i = 0; i < preconditioning; i++) {
    const heldS = i === preconditioning - 1 ? plan.holdInPreconditionS : 0
    moves.push(...stroke(heldS > 0 ? { ...plan, peakPa: plan.leakHoldPa } : plan, cyclePaPerS(plan, 0), heldS))
  }
  moves.push(cue('cycles'))
  for (let i = 0; i < cycles + briskStrokes; i++)
    moves.push(...stroke(plan, cyclePaPerS(plan, i), i === cycles - 1 ? plan.holdS : 0))
  if (plan.leakHoldS > 0)
    moves.push(
      pull(plan.quickPaPerS, plan.leakHoldPa),
      cue('leak-hold'),
      { kind: 'hold', forS: plan.leakHoldS },
      { kind: 'vent', forS: plan.restS },
    )
  moves.push(cue('zero'), { kind: 'vent', forS: plan.zeroS })
  return moves
}

const pull = (ratePaPerS: number, toPa: number, stopAtSnap = false, silentPa = toPa): Move => ({
  kind: 'pull',
  ratePaPerS,
  toPa,
  silentPa,
  stopAtSnap,
})

/** One stroke through the trips at a rate, its peak held for `holdS`, and the rest after it. */
export function stroke(plan: HandPlan, ratePaPerS: number, holdS: number): Move[] {
  const { quickPaPerS, slowFrom, slowTo, expectedMakePa, expectedBreakPa, reversalPa } = plan
  const moves: Move[] = [{ kind: 'cue', cue: 'stroke' }, pull(quickPaPerS, slowFrom * expectedMakePa)]
  if (reversalPa > 0) {
    const turnPa = 0.95 * expectedMakePa
    moves.push(pull(ratePaPerS, turnPa), pull(-ratePaPerS, turnPa - reversalPa))
  }
  moves.push(pull(ratePaPerS, slowTo * expectedMakePa, true), pull(quickPaPerS, plan.peakPa, false, plan.giveUpPa))
  if (holdS > 0) moves.push({ kind: 'cue', cue: 'hold' })
  moves.push(
    { kind: 'hold', forS: Math.max(plan.peakHoldS, holdS) },
    pull(-quickPaPerS, slowTo * expectedBreakPa),
    pull(-ratePaPerS, slowFrom * expectedBreakPa, true),
    { kind: 'vent', forS: plan.restS },
  )
  return moves
}

/** What the hand does next. A grip lasts `lastsS` at most, and ends earlier at `untilPa` (null = whatever the pressure). */
export type Grip =
  | { kind: 'cue'; cue: MarkName | 'stroke' }
  | { kind: 'vent'; lastsS: number }
  | { kind: 'draw'; ratePaPerS: number; lastsS: number; untilPa: number | null; slipMm: number }

export type Hand = {
  /** The next grip, from the time and the pressure that the hand sees; null when the test is over. */
  grip(timeUs: number, pressurePa: number): Grip | null
  /** The switch snapped. */
  hear(timeUs: number): void
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
  let pauseUs = plan.pauses ? random.exponential(plan.pauses.everyS) * 1e6 : Number.POSITIVE_INFINITY

  function next(): void {
    current = coming.next()
    begunUs = null
  }

  function pullFurther(move: Extract<Move, { kind: 'pull' }>, timeUs: number, pressurePa: number): Grip | null {
    if (move.ratePaPerS > 0 !== rising) {
      rising = move.ratePaPerS > 0
      snappedUs = null
    }
    const targetPa = snappedUs === null ? move.silentPa : move.toPa
    const leftPa = rising ? targetPa - pressurePa : pressurePa - targetPa
    let lastsS = correctionS
    if (move.stopAtSnap && snappedUs !== null) lastsS = Math.min(lastsS, plan.lingerS - (timeUs - snappedUs) / 1e6)
    // Half a microsecond: what is left of a time that was rounded to whole ones.
    if (leftPa <= 0 || lastsS <= 5e-7) return null
    if (timeUs >= pauseUs && plan.pauses) {
      pauseUs = timeUs + (plan.pauses.forS + random.exponential(plan.pauses.everyS)) * 1e6
      return { kind: 'draw', ratePaPerS: 0, lastsS: plan.pauses.forS, untilPa: null, slipMm: 0 }
    }
    if (plan.slipMm > 0) {
      const slipMm = plan.slipMm * random.between(0.5, 1.5)
      const onward = random.uniform() > 0.2
      const stickS = slipPa(slipMm) / Math.abs(move.ratePaPerS)
      return {
        kind: 'draw',
        ratePaPerS: 0,
        lastsS: stickS,
        untilPa: null,
        slipMm: onward === rising ? slipMm : -slipMm,
      }
    }
    // Unevenness that dies out over a few corrections: a smooth hand rather than white noise.
    wobble = 0.7 * wobble + random.normal(plan.unevenness * Math.sqrt(1 - 0.7 ** 2))
    const ratePaPerS = move.ratePaPerS * Math.max(0.1, 1 + wobble)
    return { kind: 'draw', ratePaPerS, lastsS, untilPa: targetPa, slipMm: 0 }
  }

  return {
    grip(timeUs, pressurePa) {
      for (;;) {
        if (current.done) return null
        const move = current.value
        if (move.kind === 'cue') {
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
        if (lastsS > 5e-7) {
          if (move.kind === 'vent') return { kind: 'vent', lastsS }
          return { kind: 'draw', ratePaPerS: 0, lastsS, untilPa: null, slipMm: 0 }
        }
        next()
      }
    },
    hear(timeUs) {
      snappedUs = timeUs
    },
  }
}
