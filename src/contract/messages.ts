// What the thread that checks a driver is told, and what it tells.
import type { CaseFault } from './driver-contract.ts'
import type { Transcript } from './transcript.ts'

export type CheckOrder = {
  /** Absolute path of the driver, and its text. */
  file: string
  source: string
  name: string
  taken: readonly string[]
  transcripts: readonly Transcript[]
}

/** `begins` comes before each case, so that one that never ends is known by its name; `over` comes last. */
export type CheckReport =
  | { type: 'begins'; name: string }
  | { type: 'done'; name: string; fault: CaseFault | null }
  | { type: 'over' }
