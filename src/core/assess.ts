// A run into its analysis and result as they stand, worked out again only when something that matters has happened.

import { type Analysis, analyse } from './analyse.ts'
import { criteria } from './criteria.table.ts'
import { type Settling, settlingsOf } from './decision/settling.ts'
import type { Run } from './intake/run.ts'
import { judge } from './judge.ts'
import { isActuated } from './model/pair.ts'
import type { Result } from './model/result.ts'
import { stateOf } from './model/samples.ts'

/** The analysis that a screen keeps between strokes; taken again when a stroke, a mark or the run ends. Null before `start`. */
export type Assessment = {
  key: string
  analysis: Analysis
  result: Result
  /** What would settle what is undecided so far. */
  settlings: Settling[]
  /** The mechanism kicked in a stroke, yet the contact has never changed. */
  movedOnly: boolean
} | null

function assessmentKey(run: Run): string {
  const { damage, tracker } = run
  return [
    tracker.count,
    run.marks.length,
    run.typed.length,
    isOverdue(run),
    run.end !== null,
    damage.seal,
    damage.torn,
    damage.corrupt.count,
  ].join()
}

/** Whether one of the first two strokes should have made by now and has not. */
function isOverdue({ tracker, setup, contact }: Run): boolean {
  const { current, count } = tracker
  if (setup === null || current === null || count > 1) return false
  if (current.peakPa < criteria.overdueShare * setup.rating.ratedPa) return false
  for (let i = contact.length - 1; i >= 0 && contact.of.tUs[i]! >= current.startUs; i--)
    if (isActuated(stateOf(contact.of.state[i]), setup.rig.pair) === true) return false
  return true
}

/** The standing of a run: the one given where nothing that matters has happened since, else a new one. Null before `start`. */
export function assess(run: Run, before: Assessment): Assessment {
  if (run.setup === null) return null
  const key = assessmentKey(run)
  if (before?.key === key) return before
  const analysis = analyse(run, run.setup, before?.analysis)
  const { rating, rig } = run.setup
  const result = judge(analysis)
  const settlings = settlingsOf(result, rating, rig)
  return {
    key,
    analysis,
    result,
    settlings,
    movedOnly: analysis.edges.length === 0 && analysis.blindKicks.some(({ kick }) => kick !== null),
  }
}
