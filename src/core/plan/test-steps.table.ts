// The plan of a test as one table: its steps in order, what each asks of the hand, which mark starts it, what ends it, what it proves.

import { criteria } from '../criteria.table.ts'
import type { MarkName } from '../model/marks.ts'

export const stepNames = [
  'cautions',
  'zero',
  'first-stroke',
  'precondition',
  'pinch',
  'hold',
  'cycles',
  'fast-cycles',
  'closing-zero',
  'verdict',
] as const
export type StepName = (typeof stepNames)[number]

/** Strokes asked of the hand; the faster ones and the hold are the same in every test. */
export type FlowPlan = { preconditioning: number; cycles: number }

/** What is asked where nothing else is planned. */
export const usualPlan: FlowPlan = {
  preconditioning: criteria.preconditioningStrokes,
  cycles: criteria.fewestCycles,
}

/** `slow`: at a pace that the instruments follow. `brisk`: so much faster that a lag shows. `any`: nothing is read from it. */
export type Pace = 'slow' | 'brisk' | 'any'

export type StepRow = {
  name: StepName
  /** What is asked of the hand; null where nothing is. */
  asks:
    | { restS: number }
    | { pinchS: number }
    | { strokes: (plan: FlowPlan) => number; pace: Pace; holdS: number }
    | null
  /** The mark that starts it; null where it starts by itself. */
  mark: { mark: MarkName; text?: string } | null
  ends: 'keys' | 'rest' | 'pinch' | 'strokes' | 'never'
  /** Its strokes count. */
  counts: boolean
  proves: string
  /** What it costs to leave it out; null where it cannot be left out. */
  without: string | null
}

const slow = { pace: 'slow', holdS: 0 } as const

const rows: Record<StepName, Omit<StepRow, 'name'>> = {
  cautions: {
    asks: null,
    mark: null,
    ends: 'keys',
    counts: false,
    proves: 'whoever tests knows what can hurt',
    without: null,
  },
  zero: {
    asks: { restS: criteria.zeroS },
    mark: { mark: 'zero' },
    ends: 'rest',
    counts: false,
    proves: 'what the manometer shows at no pressure, and its noise',
    without: 'Without the zero all that the rig allows for it goes into U.',
  },
  'first-stroke': {
    asks: { ...slow, strokes: () => 1 },
    mark: { mark: 'first-stroke' },
    ends: 'strokes',
    counts: false,
    proves: 'how the part acts after rest, as the appliance meets it',
    without: null,
  },
  precondition: {
    // The last of them is the one that is held.
    asks: { strokes: ({ preconditioning }) => Math.max(0, preconditioning - 1), pace: 'any', holdS: 0 },
    mark: { mark: 'precondition' },
    ends: 'strokes',
    counts: false,
    proves: 'the diaphragm has settled before cycles count',
    without: 'Without them the first cycles may lie apart from the rest.',
  },
  pinch: {
    asks: { pinchS: criteria.pinchUs / 1e6 },
    mark: null,
    ends: 'pinch',
    counts: false,
    proves: 'the second manometer sits at the switch',
    without: 'Without it the second manometer proves nothing of the line.',
  },
  hold: {
    asks: { strokes: () => 1, pace: 'any', holdS: criteria.holdS },
    mark: { mark: 'hold' },
    ends: 'strokes',
    counts: false,
    proves: 'hose and switch are tight',
    without: 'Without the hold a leak cannot be ruled out: near a limit the test stays undecided.',
  },
  cycles: {
    asks: { ...slow, strokes: ({ cycles }) => cycles },
    mark: { mark: 'cycles' },
    ends: 'strokes',
    counts: true,
    proves: 'make and break, and how much they scatter',
    without: `Without ${criteria.fewestCycles} cycles that count no part passes.`,
  },
  'fast-cycles': {
    asks: { strokes: () => criteria.fastCycles, pace: 'brisk', holdS: 0 },
    mark: { mark: 'note', text: 'Fast cycles: the lag of the rig from two rates' },
    ends: 'strokes',
    counts: true,
    proves: 'how late hose and instruments are',
    without: 'Without two faster strokes a hose lag cannot be ruled out: near a limit the test stays undecided.',
  },
  'closing-zero': {
    asks: { restS: criteria.zeroS },
    mark: { mark: 'zero' },
    ends: 'rest',
    counts: false,
    proves: 'the zero has not moved',
    without: 'Without the closing zero all that the rig allows for it goes into U.',
  },
  verdict: {
    asks: null,
    mark: null,
    ends: 'never',
    counts: false,
    proves: 'all that was asked is measured',
    without: null,
  },
}

/** The steps of a test in order. */
export const testSteps: readonly StepRow[] = stepNames.map((name) => ({ name, ...rows[name] }))

/** One step of the table. */
export const stepRow = (name: StepName): StepRow => ({ name, ...rows[name] })

/** Strokes that a step asks for; 0 where it asks for none. */
export function strokesOf(name: StepName, plan: FlowPlan): number {
  const { asks } = rows[name]
  return asks !== null && 'strokes' in asks ? asks.strokes(plan) : 0
}

/** All strokes of a test; of those that count only, where `counted`. The held one is among the preconditioning ones, or the first that counts. */
export function plannedStrokes(plan: FlowPlan, counted = false): number {
  return testSteps
    .filter(({ name, counts }) => (counts || !counted) && (name !== 'hold' || plan.preconditioning > 0))
    .reduce((sum, { name }) => sum + strokesOf(name, plan), 0)
}

/** The plan of a test with `strokes` strokes in all and so many of preconditioning: the rest are slow cycles. */
export function planWithStrokes(strokes: number, preconditioning: number): FlowPlan {
  const others = plannedStrokes({ preconditioning, cycles: 0 })
  return { preconditioning, cycles: Math.max(criteria.fewestCycles, strokes - others) }
}
