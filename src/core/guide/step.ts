// The steps of a guided test, what is planned of them, and the notes in which a recording keeps the plan and what was skipped.

import { criteria } from '../criteria.table.ts'
import type { Mark } from '../model/marks.ts'

export const stepNames = [
  'cautions',
  'zero',
  'first-stroke',
  'precondition',
  'cycles',
  'fast-cycles',
  'hold',
  'closing-zero',
  'verdict',
] as const
export type StepName = (typeof stepNames)[number]

export type Step = {
  name: StepName
  state: 'todo' | 'now' | 'done' | 'skipped'
  /** Strokes or whole seconds of it; null where nothing is counted. */
  progress: { done: number; wanted: number; of: 's' | 'strokes' } | null
}

/** Strokes asked of the hand. */
export type FlowPlan = { preconditioning: number; cycles: number }

/** What is asked where nothing else is planned. */
export const usualPlan: FlowPlan = {
  preconditioning: criteria.preconditioningStrokes,
  cycles: criteria.fewestCycles,
}

const planText = /^Plan: preconditioning strokes (\d+), cycles (\d+)$/
const skipText = /^Skipped ([a-z-]+): (.*)$/
const fastText = 'Fast cycles: the lag of the rig from two rates'

/** The note that keeps `plan` in the recording. */
export const planNote = ({ preconditioning, cycles }: FlowPlan): string =>
  `Plan: preconditioning strokes ${preconditioning}, cycles ${cycles}`

/** The note that keeps why a step was left out. */
export const skipNote = (step: StepName, reason: string): string => `Skipped ${step}: ${reason}`

/** The note that opens the fast cycles. */
export const fastNote = fastText

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
  if (mark === 'zero') return 'closing-zero'
  if (mark === 'note') return text === fastText ? 'fast-cycles' : null
  return stepNames.find((s) => s === mark) ?? null
}

/** When the fast cycles were last opened, µs; null where they never were. */
export function fastSinceUs(marks: readonly Mark[]): number | null {
  return marks.findLast((m) => m.mark === 'note' && m.text === fastText)?.tUs ?? null
}
