// A plan of strokes into the moves of the whole test, with the marks of its flow.
import { criteria } from '../core/criteria.table.ts'
import type { MarkName } from '../core/model/marks.ts'
import type { TripWatch } from './near-trip.ts'

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
  /** After the preconditioning: the hose beside the switch is pinched, and the tee drawn for so long; 0 = it is not. */
  pinchS: number
  /** In the last cycle: hold the peak this long, marked `hold`. */
  holdS: number
  /** After the last cycle: draw to `leakHoldPa` and hold this long, marked `leak-hold`. */
  leakHoldS: number
  leakHoldPa: number
  /** From the peak of these strokes it vents at once. */
  ventsFromPeak: readonly number[]
  /** After these strokes the key that discards a stroke is pressed. */
  discards: readonly number[]
  /** Relative unevenness of the rate (standard deviation), and pauses of the hand. */
  unevenness: number
  pauses: { everyS: number; forS: number } | null
  /** It pauses around a trip; null = never. */
  tripPauses: TripWatch | null
  /** Each stroke has its own pace, up to this share faster or slower than planned. */
  paceSpread: number
  /** Trembling, of the plunger; null = a calm hand. */
  tremor: { hz: number; amplitudeMm: number } | null
  /** Time constant with which it draws back what the kick took; null = it takes the new pressure as it is. */
  correctsS: number | null
  /** In the trip region the hand goes back by this much once, in each stroke; 0 = never. */
  reversalPa: number
  /** The plunger sticks and slips by about this much, one time in five the wrong way; 0 = it glides. */
  slipMm: number
}

/** A mark, or what the bench is to know of the hand. */
export type Cue = MarkName | 'stroke' | 'pinch' | 'let-go'

export type Move =
  | { kind: 'cue'; cue: Cue }
  | { kind: 'vent' | 'hold'; forS: number }
  | { kind: 'pull'; ratePaPerS: number; toPa: number; silentPa: number; stopAtSnap: boolean }

const cue = (name: Cue): Move => ({ kind: 'cue', cue: name })

/** Rate through the trips of a cycle, counted from 0: the slow ones, then the brisk ones. */
export function cyclePaPerS({ cycles, briskStrokes, briskFactor, slowPaPerS }: HandPlan, cycle: number): number {
  if (cycle >= cycles && cycle < cycles + briskStrokes) return briskFactor * slowPaPerS[0]!
  return slowPaPerS[cycle % slowPaPerS.length]!
}

/** The whole test as moves: zero, first stroke, preconditioning, cycles, closing zero, with the marks of its flow. */
export function movesOf(plan: HandPlan): Move[] {
  const { preconditioning, cycles, briskStrokes } = plan
  const moves: Move[] = [cue('zero'), { kind: 'vent', forS: plan.zeroS }, cue('first-stroke')]
  let drawn = 0
  const add = (strokeMoves: readonly Move[]) => {
    drawn++
    const falls = (move: Move) => move.kind === 'pull' && move.ratePaPerS < 0
    const vents = plan.ventsFromPeak.includes(drawn)
    moves.push(...strokeMoves.filter((move) => !vents || !falls(move)))
    if (plan.discards.includes(drawn)) moves.push(cue('discard-cycle'))
  }
  add(stroke(plan, cyclePaPerS(plan, 0), 0))
  if (preconditioning > 0) moves.push(cue('precondition'))
  for (let i = 0; i < preconditioning; i++) {
    const held = i === preconditioning - 1 && plan.holdInPreconditionS > 0
    add(
      held
        ? stroke({ ...plan, peakPa: plan.leakHoldPa }, cyclePaPerS(plan, 0), plan.holdInPreconditionS)
        : stroke(plan, cyclePaPerS(plan, 0), 0),
    )
  }
  moves.push(...pinch(plan), cue('cycles'))
  for (let i = 0; i < cycles + briskStrokes; i++)
    add(stroke(plan, cyclePaPerS(plan, i), i === cycles - 1 ? plan.holdS : 0))
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

/** The tee drawn a little while the hose beside the switch is pinched; nothing where the plan leaves it out. */
export function pinch({ pinchS, quickPaPerS, restS, expectedMakePa }: HandPlan): Move[] {
  if (pinchS === 0) return []
  const draw = pull(quickPaPerS, criteria.pinchShare * expectedMakePa)
  return [cue('pinch'), draw, { kind: 'hold', forS: pinchS }, { kind: 'vent', forS: restS }, cue('let-go')]
}

/** One stroke through the trips at a rate, its peak held for `holdS`, and the rest after it. */
export function stroke(plan: HandPlan, ratePaPerS: number, holdS: number): Move[] {
  const { quickPaPerS, slowFrom, slowTo, expectedMakePa, expectedBreakPa, reversalPa } = plan
  const moves: Move[] = [cue('stroke'), pull(quickPaPerS, slowFrom * expectedMakePa)]
  if (reversalPa > 0) {
    const turnPa = 0.95 * expectedMakePa
    moves.push(pull(ratePaPerS, turnPa), pull(-ratePaPerS, turnPa - reversalPa))
  }
  moves.push(pull(ratePaPerS, slowTo * expectedMakePa, true), pull(quickPaPerS, plan.peakPa, false, plan.giveUpPa))
  if (holdS > 0) moves.push(cue('hold'))
  moves.push(
    { kind: 'hold', forS: Math.max(plan.peakHoldS, holdS) },
    pull(-quickPaPerS, slowTo * expectedBreakPa),
    pull(-ratePaPerS, slowFrom * expectedBreakPa, true),
    { kind: 'vent', forS: plan.restS },
  )
  return moves
}
