// What a screen shows of a run in progress: plain numbers, bounded lists, nothing to compute there.
import type { Settling } from './decision/settling.ts'
import type { Blocked } from './decision/verdict.ts'
import type { EndReason, PortName } from './event.ts'
import type { Caution } from './guide/cautions.ts'
import type { FlowMark } from './guide/flow-mark.ts'
import type { RateBand } from './guide/instruments.ts'
import type { LeftOut, Step, StepName } from './guide/step.ts'
import type { LimitPa } from './part.ts'
import type { Result } from './result.ts'

/** State of the wired pair, debounced. `closed`/`open` for a pair; the network also tells the throws apart. */
export type ContactState =
  | 'unknown'
  | 'closed'
  | 'open'
  | 'no-closed'
  | 'nc-closed'
  | 'neither'
  | 'both'
  | 'lead-off'
  | 'shorted'

export type TracePoint = { tS: number; pressurePa: number; actuated: boolean | null }

export type TripMark = { tS: number; stroke: number; transition: 'make' | 'break'; pressurePa: number | null }

export type Phase =
  | 'waiting'
  | 'zero'
  | 'first-stroke'
  | 'precondition'
  | 'cycles'
  | 'fast-cycles'
  | 'hold'
  | 'closing-zero'
  | 'ended'

/** What the hands do, in a word. */
export type Action = 'read' | 'wait' | 'draw' | 'slower' | 'faster' | 'hold' | 'let-down' | 'vent' | 'stop' | 'done'

/** Where the test stands and what the hands do next. */
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
   * the trips.
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
}

/** A result against its limits: what passes lies within `accept`, between accept and limit stands the guard. Pa. */
export type Band = {
  name: 'make' | 'break' | 'differential'
  limit: LimitPa
  accept: LimitPa | null
  valuePa: number | null
  UPa: number | null
}

export type Live = {
  elapsedS: number
  /** Zero subtracted, positive = suction that pushes the switch; null before the first reading. */
  pressurePa: number | null
  ratePaPerS: number | null
  contact: ContactState
  /** Whether the switch is in its actuated state; null while unknown. */
  actuated: boolean | null
  ohm: number | null
  phase: Phase
  /** Strokes finished and used, and how many are wanted. */
  used: number
  wanted: number
  /** At most 1 200 points, the newest last. */
  trace: readonly TracePoint[]
  trips: readonly TripMark[]
  links: readonly {
    port: PortName
    state: 'waiting' | 'open' | 'lost'
    readingsPerS: number | null
    faults: number
    lastFault: string | null
  }[]
  /** Null where nothing is guided: a purpose without a verdict. */
  guide: Guide | null
  bands: readonly Band[]
  /** Bytes of the recording so far; null where that is not known. */
  recordedBytes: number | null
  /** Why its file is not where it was written, and what to do; null while it is, or where that is not known. */
  astray: { message: string; next: string } | null
  /** One sentence: what the hands do next. */
  next: string
  /** One sentence when something is wrong now (over-pressure, silent port, reading on hold …); null when all is well. */
  alarm: string | null
  /** The result as it stands after the last finished stroke; final once `phase` is `ended`. */
  result: Result | null
  /** What would settle each quantity that is undecided in `result`. */
  settlings: readonly Settling[]
  /** Steps that were skipped. */
  leftOut: readonly LeftOut[]
  /** How the test ended; null while it runs, and where its recording has no end. */
  end: EndReason | null
  /** What keeps it from being decided, whatever is measured. */
  blocked: Blocked | null
}
