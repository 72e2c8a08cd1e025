// What a screen shows of a run in progress: plain numbers, bounded lists, nothing to compute there.
import type { PortName } from './event.ts'
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

export type Phase = 'waiting' | 'zero' | 'first-stroke' | 'precondition' | 'cycles' | 'closing-zero' | 'ended'

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
  /** One sentence: what the hands do next. */
  next: string
  /** One sentence when something is wrong now (over-pressure, silent port, reading on hold …); null when all is well. */
  alarm: string | null
  /** The result as it stands after the last finished stroke; final once `phase` is `ended`. */
  result: Result | null
}
