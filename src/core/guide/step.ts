// The marks of a recording into what it tells of its steps: the plan, when each was begun, what was skipped and why.

import type { Mark } from '../model/marks.ts'
import { type FlowPlan, type StepName, stepNames, stepRow, testSteps, usualPlan } from '../plan/test-steps.table.ts'

export type Step = {
  name: StepName
  state: 'todo' | 'now' | 'done' | 'skipped'
  /** Strokes or whole seconds of it; null where nothing is counted. */
  progress: { done: number; wanted: number; of: 's' | 'strokes' } | null
}

const planText = /^Plan: preconditioning strokes (\d+), cycles (\d+)$/
const skipText = /^Skipped ([a-z-]+): (.*)$/

/** The note that keeps `plan` in the recording. */
export const planNote = ({ preconditioning, cycles }: FlowPlan): string =>
  `Plan: preconditioning strokes ${preconditioning}, cycles ${cycles}`

/** The note that keeps why a step was left out. */
export const skipNote = (step: StepName, reason: string): string => `Skipped ${step}: ${reason}`

/** The plan that a recording tells; the usual one where it tells none. */
export function planOf(marks: readonly Mark[]): FlowPlan {
  const told = marks.findLast((m) => m.mark === 'note' && planText.test(m.text ?? ''))
  const [, preconditioning, cycles] = planText.exec(told?.text ?? '') ?? []
  if (preconditioning === undefined || cycles === undefined) return usualPlan
  return { preconditioning: Number(preconditioning), cycles: Number(cycles) }
}

/** When each step was last skipped, µs. */
export function skipsOf(marks: readonly Mark[]): ReadonlyMap<string, number> {
  return new Map(
    marks.flatMap((m): [string, number][] => {
      const [, step] = (m.mark === 'note' && skipText.exec(m.text ?? '')) || []
      return step === undefined ? [] : [[step, m.tUs]]
    }),
  )
}

export type LeftOut = { step: StepName; reason: string }

/** The steps that were skipped and not begun again since, with the reason that was given. */
export function leftOutOf(marks: readonly Mark[]): LeftOut[] {
  return marks.flatMap((m, i): LeftOut[] => {
    const [, name, reason = ''] = (m.mark === 'note' && skipText.exec(m.text ?? '')) || []
    const step = stepNames.find((s) => s === name)
    if (step === undefined) return []
    const again = marks
      .slice(i + 1)
      .some((later) => opens(later) === step || skipText.exec(later.text ?? '')?.[1] === step)
    return again ? [] : [{ step, reason }]
  })
}

/** The step that a mark begins. A zero after a skip closes: the first one comes before all else. */
function opens({ mark, text }: Mark): StepName | null {
  return testSteps.findLast((row) => row.mark?.mark === mark && (row.mark.text ?? text) === text)?.name ?? null
}

/** When a step was last begun by its mark, µs; null where it never was. */
export function begunUs(marks: readonly Mark[], name: StepName): number | null {
  const { mark } = stepRow(name)
  if (mark === null) return null
  return marks.findLast((m) => m.mark === mark.mark && (mark.text ?? m.text) === m.text)?.tUs ?? null
}
