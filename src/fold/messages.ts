// What the main thread and the worker that folds say to each other: small plain data, and never the state of the run.
import type { Told } from '../commands/describe-run.ts'
import type { Judged } from '../commands/judge-recording.ts'
import type { Asked } from '../commands/listen-port.ts'
import type { FellSilent } from '../core/guide/fell-silent.ts'
import type { Flow } from '../core/guide/guide.ts'
import type { EndReason, RecordedEvent, StartEvent } from '../core/model/event.ts'
import type { Result } from '../core/model/result.ts'
import type { Rig } from '../core/model/rig.ts'
import type { DescribedDriver } from '../described-driver.ts'
import type { ProblemCode } from '../errors.ts'
import type { AcquisitionPlan, MarkOrder } from '../source/acquire.ts'
import type { PackedLive } from './packed-live.ts'
import type { EarsView } from './rig-ears.ts'

/** A Problem as it travels: as an error it would lose its code. */
export type ToldProblem = { code: ProblemCode; text: string }

/** `unattended`: nobody watches who could see to a port. */
export type LiveTest = { plan: AcquisitionPlan; flow: Flow; unattended: boolean }

/** What may be asked, each answered once: what it is asked with, and what comes back. */
export type Asks = {
  /** The user's own drivers in `folder`, as what is needed of them for `rig`, and as they are by default. */
  describe: { with: { rig: Rig | null; folder: string }; gives: readonly DescribedDriver[] }
  /** What all drivers make of bytes, a line each. */
  reads: { with: { text: string; asked: Asked | null; folder: string }; gives: string[] }
  /** The instruments of a rig that is only looked at; what those below are then about: events, a new proof, what was heard. */
  ears: { with: { rig: Rig; folder: string }; gives: null }
  hear: { with: { events: readonly RecordedEvent[] }; gives: null }
  again: { with: null; gives: null }
  heard: { with: null; gives: EarsView }
  /** What the recording at `path` comes to, and which of the drivers that recorded it has changed since. */
  judge: { with: { path: string; folder: string }; gives: Judged }
  /** A finished recording, which those below are then about; `folder` holds the user's own drivers. */
  open: { with: { path: string; folder: string }; gives: { start: StartEvent; endS: number } }
  look: { with: { atS: number }; gives: PackedLive }
  tell: { with: null; gives: Judged }
  /** Paths of what was written into the folder `out`. */
  curve: { with: { out: string }; gives: string[] }
  /** Its drawings, as SVG. */
  drawings: { with: null; gives: string[] }
  /** Path of its test report, a PDF in the folder `out`. */
  report: { with: { out: string }; gives: string }
  /** Path of its tag, the same. */
  tag: { with: { out: string }; gives: string }
}
export type AskName = keyof Asks

/** From the main thread. `grew` and `ended` are what it hears of the recording process, `shown` asks for the next view. */
export type FoldOrder =
  | { type: 'ask'; id: number; name: AskName; with: Asks[AskName]['with'] }
  | ({ type: 'begin' } & LiveTest)
  | { type: 'grew' }
  | { type: 'ended'; died: ToldProblem | null }
  | { type: 'shown' }

/**
 * How the test ended. `told` with `astray`, where its file is not at its path; or the problem that broke it off, and whether
 * nothing but its first lines was ever recorded. `fellSilent`: instruments that switched off by themselves.
 */
export type FoldOutcome =
  | { told: Told; fellSilent: readonly FellSilent[]; lastedS: number }
  | { fault: ToldProblem; nothingCame: boolean }

/** From the worker. `loading` comes before each file of the user's own, `over` comes last. */
export type FoldReport =
  | { type: 'loading'; file: string }
  | { type: 'answer'; id: number; gives: Asks[AskName]['gives'] }
  | { type: 'refused'; id: number; problem: ToldProblem }
  | { type: 'live'; live: PackedLive }
  | { type: 'mark'; order: MarkOrder }
  | { type: 'finish'; reason: EndReason }
  | { type: 'verdict'; result: Result | null }
  | { type: 'over'; outcome: FoldOutcome }
