// Where the test stands into the one mark that the program itself should write next. What is recorded already is never asked for again.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import type { MarkName } from '../model/marks.ts'

import type { Course } from './course.ts'
import { type FlowPlan, fastNote, planNote, planOf, type StepName, skipNote } from './step.ts'

export type FlowMark = { mark: MarkName; text?: string }

/**
 * The next mark, null where none is due. `plan` is what this session was asked to do; `blocked`: something is wrong with
 * the bench, so no step begins.
 */
export function flowMark(run: Run, course: Course, plan: FlowPlan, blocked: boolean): FlowMark | null {
  const { step, marks, ventedSinceUs, countingSinceUs } = course
  if (run.end !== null) return null
  const told = planOf(marks)
  const other = told.cycles !== plan.cycles || told.preconditioning !== plan.preconditioning
  if (other && marks.every((m) => m.text !== planNote(plan))) return { mark: 'note', text: planNote(plan) }

  const has = (name: MarkName) => marks.some((m) => m.mark === name)
  const stroking = run.tracker.current !== null
  const settled = ventedSinceUs !== null && run.tUs - ventedSinceUs >= criteria.settledUs
  if (run.strokes.length === 0) {
    if (stroking) return null
    if (!has('zero')) return settled ? { mark: 'zero' } : null
    return step === 'first-stroke' && !has('first-stroke') ? { mark: 'first-stroke' } : null
  }
  if (stroking || blocked) return null
  if (step === 'precondition') return has('precondition') ? null : { mark: 'precondition' }
  if (countingSinceUs === null) return { mark: 'cycles' }
  switch (step) {
    case 'fast-cycles':
      return begun(run, course, step, course.fastSinceUs) ?? opening(course.fastSinceUs, 'note', fastNote)
    case 'hold':
      return begun(run, course, step, course.holdSinceUs) ?? opening(course.holdSinceUs, 'hold')
    case 'closing-zero':
      return course.closingSinceUs === null && settled ? { mark: 'zero' } : null
    default:
      return null
  }
}

const opening = (sinceUs: number | null, mark: MarkName, text?: string): FlowMark | null =>
  sinceUs === null ? { mark, ...(text === undefined ? {} : { text }) } : null

function begun(run: Run, { ventedSinceUs }: Course, step: StepName, sinceUs: number | null): FlowMark | null {
  if (sinceUs === null) return null
  const last = run.strokes.items[run.strokes.length - 1]
  const restingS = (run.tUs - Math.max(sinceUs, last?.endUs ?? 0)) / 1e6
  if (ventedSinceUs === null || restingS < criteria.skipS) return null
  return { mark: 'note', text: skipNote(step, `nothing was drawn for ${criteria.skipS} s`) }
}
