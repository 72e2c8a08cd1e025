// How far the test is into the one mark that the program itself should write next. What is recorded already is never asked for again.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { cautionsWaitNote } from '../model/cautions.ts'
import type { MarkName } from '../model/marks.ts'
import { type FlowPlan, stepRow } from '../plan/test-steps.table.ts'

import type { Course } from './course.ts'
import { begunUs, planNote, planOf } from './step.ts'

export type FlowMark = { mark: MarkName; text?: string }

/**
 * The next mark, null where none is due. `plan` is what this session was asked to do; `blocked`: something is wrong with
 * the bench, so no step begins; `asks`: cautions wait for a key.
 */
export function flowMark(
  run: Run,
  course: Course,
  plan: FlowPlan,
  { blocked, asks }: { blocked: boolean; asks: boolean },
): FlowMark | null {
  const { step, marks, ventedSinceUs, countingSinceUs } = course
  if (run.end !== null) return null
  const told = planOf(marks)
  const other = told.cycles !== plan.cycles || told.preconditioning !== plan.preconditioning
  if (other && marks.every((m) => m.text !== planNote(plan))) return { mark: 'note', text: planNote(plan) }

  const waits = asks && step === 'cautions'
  if (waits && marks.every(({ text }) => text !== cautionsWaitNote)) return { mark: 'note', text: cautionsWaitNote }

  const has = (name: MarkName) => marks.some((m) => m.mark === name)
  const stroking = run.tracker.current !== null
  const settled = ventedSinceUs !== null && run.tUs - ventedSinceUs >= criteria.settledUs
  if (run.strokes.length === 0) {
    if (stroking) return null
    if (!has('zero')) return settled ? { mark: 'zero' } : null
    return step === 'first-stroke' && !has('first-stroke') ? { mark: 'first-stroke' } : null
  }
  if (stroking || blocked || waits) return null
  // The hold lies in the preconditioning, where there is one: its own mark comes after that of the strokes it belongs to.
  const conditions = step === 'precondition' || ((step === 'hold' || step === 'pinch') && plan.preconditioning > 0)
  if (conditions && countingSinceUs === null && !has('precondition')) return { mark: 'precondition' }
  if (step === 'precondition' || step === 'pinch') return null
  if (countingSinceUs === null && !conditions) return { mark: 'cycles' }
  if (step === 'closing-zero') return course.closingSinceUs === null && settled ? { mark: 'zero' } : null
  const { mark } = stepRow(step)
  return begunUs(marks, step) === null ? mark : null
}
