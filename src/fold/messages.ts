// What the main thread and the worker of a live test say to each other: small plain data, and never the state of the run.
import type { Told } from '../commands/describe-run.ts'
import type { Flow } from '../core/guide/guide.ts'
import type { EndReason } from '../core/model/event.ts'
import type { Result } from '../core/model/result.ts'
import type { Rig } from '../core/model/rig.ts'
import type { DescribedDriver } from '../described-driver.ts'
import type { ProblemCode } from '../errors.ts'
import type { AcquisitionPlan, MarkOrder } from '../source/acquire.ts'
import type { PackedLive } from './packed-live.ts'

/** A Problem as it travels: as an error it would lose its code. */
export type ToldProblem = { code: ProblemCode; text: string }

/** `unattended`: nobody watches who could see to a port. */
export type LiveTest = { plan: AcquisitionPlan; flow: Flow; unattended: boolean }

/** From the main thread. `grew` and `ended` are what it hears of the recording process, `shown` asks for the next view. */
export type FoldOrder =
  | { type: 'describe'; rig: Rig; folder: string }
  | ({ type: 'begin' } & LiveTest)
  | { type: 'grew' }
  | { type: 'ended'; died: ToldProblem | null }
  | { type: 'shown' }

/**
 * How the test ended. `told` with `astray`, where its file is not at its path; or the problem that broke it off, and whether
 * nothing but its first lines was ever recorded.
 */
export type FoldOutcome = { told: Told } | { fault: ToldProblem; nothingCame: boolean }

/** From the worker. `loading` comes before each file of the user's own, `over` comes last. */
export type FoldReport =
  | { type: 'loading'; file: string }
  | { type: 'described'; drivers: readonly DescribedDriver[] }
  | { type: 'refused'; problem: ToldProblem }
  | { type: 'live'; live: PackedLive }
  | { type: 'mark'; order: MarkOrder }
  | { type: 'finish'; reason: EndReason }
  | { type: 'verdict'; result: Result | null }
  | { type: 'over'; outcome: FoldOutcome }
