// What the program says on its screen into the moves of a hand that follows it: it begins when it is told, and draws until it is told to stop.
import type { MarkName } from '../core/model/marks.ts'

import { cyclePaPerS, type HandPlan, type Move, stroke } from './hand-plan.ts'

/** The marks of the flow that the hand has been told so far, in order. */
export type Heard = readonly MarkName[]

/** A hand looks at the screen about so often, s: common practice, no source. */
const glanceS = 0.25
/** One that is told nothing goes on by itself after this time, s. */
const patienceS = 30

/**
 * Endless: the first stroke when told, then preconditioning, then cycles until the closing zero is asked for. `hurry`: the
 * bench runs so many times as fast as the screen's own clock, by which a hold is counted.
 */
export function* heedingMoves(plan: HandPlan, heard: Heard, hurry: number): Generator<Move> {
  const glance: Move = { kind: 'vent', forS: glanceS }
  const counts = (name: MarkName) => heard.filter((mark) => mark === name).length
  let holds = 0
  /** How long the stroke that begins now is to be held: somewhat longer than a hold that was asked for since the last one. */
  const heldS = (plannedS: number) => {
    const asked = counts('hold') > holds
    holds = counts('hold')
    return asked ? Math.max(plannedS, holdS * hurry) : 0
  }
  while (!heard.includes('first-stroke')) yield glance
  yield* stroke(plan, cyclePaPerS(plan, 0), 0)
  yield* until(() => heard.includes('precondition') || heard.includes('cycles'))
  for (let i = 0; i < plan.preconditioning && !heard.includes('cycles'); i++) {
    // Nothing is read from these: they go through the trips quickly.
    yield* stroke(plan, plan.quickPaPerS, heldS(plan.holdInPreconditionS))
    if (i === plan.preconditioning - 1) yield* until(() => heard.includes('cycles'))
    else yield glance
  }
  let zeros = counts('zero')
  for (let cycle = 0; ; ) {
    if (counts('zero') > zeros) {
      zeros = counts('zero')
      yield* until(() => counts('zero') > zeros)
    } else {
      yield* stroke(plan, cyclePaPerS(plan, cycle++), heldS(plan.holdS))
      yield glance
    }
  }

  function* until(told: () => boolean): Generator<Move> {
    for (let waitedS = 0; waitedS < patienceS * hurry && !told(); waitedS += glanceS) yield glance
  }
}

/** Somewhat longer than is asked for, s. */
const holdS = 11

/** The plan at the pace of a practised hand: the trip region narrow, the rests short. */
export function practised(plan: HandPlan): HandPlan {
  return {
    ...plan,
    quickPaPerS: 0.8 * plan.quickPaPerS,
    slowPaPerS: plan.slowPaPerS.map((rate) => 1.6 * rate),
    slowFrom: Math.max(plan.slowFrom, 0.85),
    slowTo: Math.min(plan.slowTo, 1.15),
    restS: Math.min(plan.restS, 6),
  }
}
