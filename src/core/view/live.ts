// What a screen shows of a run in progress: plain numbers, bounded lists, nothing to compute there.

import type { Settling } from '../decision/settling.ts'
import type { Blocked } from '../decision/verdict.ts'
import type { Band, Guide } from '../guide/guidance.ts'
import type { LeftOut } from '../guide/step.ts'
import type { EndReason } from '../model/event.ts'
import type { Result } from '../model/result.ts'
import type { PortName } from '../model/rig.ts'
import type { ContactState } from '../model/samples.ts'

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
  | 'pinch'
  | 'closing-zero'
  | 'ended'

export type Live = {
  elapsedS: number
  /** Zero subtracted, positive = suction that pushes the switch; null before the first reading. */
  pressurePa: number | null
  ratePaPerS: number | null
  /** The same at the switch end, by a second manometer; null where there is none, or it is not heard now. */
  atSwitchPa: number | null
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
  /** Those of the time that the trace shows. */
  trips: readonly TripMark[]
  links: readonly {
    port: PortName
    state: 'waiting' | 'open' | 'lost' | 'typed'
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
  /** Who signed the recording, as a clause; null until it is sealed, or where nobody looked. */
  signature: string | null
  /** One sentence: what the hands do next. */
  next: string
  /** One sentence when something is wrong now (over-pressure, silent port, reading on hold …); null when all is well. */
  alarm: string | null
  /** The result as of the last finished stroke; final once `phase` is `ended`. */
  result: Result | null
  /** What would settle each quantity that is undecided in `result`. */
  settlings: readonly Settling[]
  /** Steps that were skipped. */
  leftOut: readonly LeftOut[]
  /** Instruments whose link was lost at some time, each once. */
  lost: readonly PortName[]
  /** How the test ended; null while it runs, and where its recording has no end. */
  end: EndReason | null
  /** What keeps it from being decided, whatever is measured. */
  blocked: Blocked | null
}
