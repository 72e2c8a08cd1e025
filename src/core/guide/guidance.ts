// What the guide tells of a test in progress: the step, one action word, a sentence, the pace, the next point.

import type { Caution } from '../model/cautions.ts'
import type { LimitPa } from '../model/part.ts'
import type { StepName } from '../plan/test-steps.table.ts'
import type { FlowMark } from './flow-mark.ts'
import type { RateBand } from './instruments.ts'
import type { Step } from './step.ts'
import type { TypedAsk } from './typed-ask.ts'

/** What the hands do, in a word. */
export type Action =
  | 'read'
  | 'wait'
  | 'draw'
  | 'slower'
  | 'faster'
  | 'hold'
  | 'let-down'
  | 'vent'
  | 'stop'
  | 'lost'
  | 'type'
  | 'done'

/** How far the test is and what the hands do next. */
export type Guide = {
  step: StepName
  steps: readonly Step[]
  action: Action
  /** Stays the same while the hands have the same thing to do. */
  sentence: string
  /** To be acknowledged, once. */
  cautions: readonly Caution[]
  /** The rate with its sign, and the band that is good where the pressure is now; null without a pressure. */
  rate:
    | (RateBand & { nowPaPerS: number; pace: 'free' | 'still' | 'too-slow' | 'good' | 'too-fast'; nearTrip: boolean })
    | null
  /** The next point of the stroke and how far it is. */
  target: { name: 'make' | 'peak' | 'break' | 'hold'; pressurePa: number; leftPa: number } | null
  /**
   * What the pace adds to one trip (95 %), against what the limits leave, and what it is too much for; null away from
   * the trips, and in a faster stroke, whose pace is asked for.
   */
  error: { errorPa: number; marginPa: number | null; exceeds: 'margin' | 'instruments' | null } | null
  /** A tremor that eats the margin, and the ballast that would quieten it (null: none would do). */
  ballast: { tremorPa: number; litres: number | null } | null
  /** Wrong leads, port or sign, with what to move. */
  trouble: string | null
  /** Cycles beyond the plan that would settle an undecided result. */
  more: number
  /** Seconds held so far where the switch is to be held. */
  heldS: number
  /** The mark that the program itself should write now, worked out from so many marks. */
  flow: FlowMark | null
  marksSeen: number
  /** What waits to be typed, and what the key for the contact says next; null where instruments send both. */
  typed: { ask: TypedAsk | null; key: 'closed' | 'open' | null } | null
}

/** A result against its limits: what passes lies within `accept`, between accept and limit is the guard. Pa. */
export type Band = {
  name: 'make' | 'break' | 'differential'
  limit: LimitPa
  accept: LimitPa | null
  valuePa: number | null
  UPa: number | null
  /** How much lower and higher than its U the value may be for lag or leak, Pa. */
  allowLowPa: number
  allowHighPa: number
}
