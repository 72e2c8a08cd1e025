// What the program says on its screen into the moves of a hand that follows it: it begins when it is told, and draws until it is told to stop.
import type { MarkName } from '../core/model/marks.ts'

import { type HandPlan, type Move, pinch, stroke } from './hand-plan.ts'

/** The marks of the flow that the hand has been told so far, in order. */
export type Heard = readonly MarkName[]

/** A hand looks at the screen about so often, s: common practice, no source. */
const glanceS = 0.25
/** One that is told nothing goes on by itself after this time, s. */
const patienceS = 30

/**
 * Endless: the first stroke when told, then preconditioning with its hold, then cycles, faster ones when told, until the
 * closing zero is asked for. `hurry`: the bench runs so many times as fast as the screen's own clock, by which a hold is
 * counted.
 */
export function* heedingMoves(plan: HandPlan, heard: Heard, hurry: number): Generator<Move> {
  const slowPaPerS = (cycle: number) => plan.slowPaPerS[cycle % plan.slowPaPerS.length]!
  const glance: Move = { kind: 'vent', forS: glanceS }
  while (!heard.includes('first-stroke')) yield glance
  yield* stroke(plan, slowPaPerS(0), 0)
  if (plan.preconditioning <= 1) yield* pinch(plan)
  yield* until(() => heard.includes('precondition') || heard.includes('cycles'))
  for (let i = 1; i < plan.preconditioning && !heard.includes('hold') && !heard.includes('cycles'); i++) {
    // Nothing is read from these: they go through the trips quickly.
    yield* stroke(plan, plan.quickPaPerS, 0)
    if (i < plan.preconditioning - 1) yield glance
    else {
      yield* pinch(plan)
      yield* until(() => heard.includes('hold') || heard.includes('cycles'))
    }
  }
  const counts = (name: MarkName) => heard.filter((mark) => mark === name).length
  let [holds, zeros, drawnFaster] = [0, counts('zero'), 0]
  for (let cycle = 0; ; ) {
    if (counts('zero') > zeros) {
      zeros = counts('zero')
      yield* until(() => counts('zero') > zeros)
    } else {
      const asked = counts('hold') > holds
      holds = counts('hold')
      // The one note that the flow writes once cycles count asks for faster strokes; more cycles may be asked for after them.
      const askedFaster = heard.includes('cycles') && heard.lastIndexOf('note') > heard.indexOf('cycles')
      const faster = askedFaster && drawnFaster++ % 3 < 2
      const ratePaPerS = faster ? plan.briskFactor * slowPaPerS(0) : slowPaPerS(cycle++)
      yield* stroke(plan, ratePaPerS, asked ? Math.max(plan.holdS, holdS * hurry) : 0)
      if (asked) yield* until(() => heard.includes('cycles'))
      else yield glance
    }
  }

  function* until(told: () => boolean): Generator<Move> {
    for (let waitedS = 0; waitedS < patienceS * hurry && !told(); waitedS += glanceS) yield glance
  }
}

/** Somewhat longer than is asked for, s. */
const holdS = 11

/** A rest in which the screen sees that the bench is still, by the screen's own clock, s; a busy machine shows it late. */
const seenRestS = 2

/** The plan at the pace of a practised hand: the trip region narrow, the rests short, and long enough for a screen that the bench outruns `hurry` times. */
export function practised(plan: HandPlan, hurry: number): HandPlan {
  return {
    ...plan,
    quickPaPerS: 0.8 * plan.quickPaPerS,
    slowPaPerS: plan.slowPaPerS.map((rate) => 1.6 * rate),
    slowFrom: Math.max(plan.slowFrom, 0.85),
    slowTo: Math.min(plan.slowTo, 1.15),
    restS: Math.max(Math.min(plan.restS, 6), seenRestS * hurry),
  }
}
