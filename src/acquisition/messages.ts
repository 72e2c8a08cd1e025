// What the two processes say to each other. Events are not among it: they travel in the file alone.

import type { EndReason } from '../core/model/event.ts'
import type { MarkName } from '../core/model/marks.ts'
import type { PortName } from '../core/model/rig.ts'
import type { TypedOrder } from '../core/model/typed.ts'
import type { SerialSettings, Wire } from '../driver.ts'
import type { ProblemCode } from '../errors.ts'
import type { Adapter } from '../ports/adapter.ts'
import type { StartFields } from '../recording/append.ts'

/** One port as data: all that its driver has to say here. `adapter`: what is plugged in there, where that is known. */
export type PortPlan = {
  name: PortName
  path: string
  settings: SerialSettings
  wire: Wire
  adapter?: Adapter | null
  /** How long the instrument stayed on in an earlier test before it fell silent by itself, s. */
  onForS?: number
}

/** What to record where; the time `at` is added when the recording begins. */
export type AcquisitionPlan = { file: string; start: Omit<StartFields, 'at'>; ports: readonly PortPlan[] }

/** By what a recording is signed, and where its bench's chain is kept. The key (PKCS #8 as DER, base64) travels here and nowhere else. */
export type Signing = { privateKey: string; chain: string }

/** Of `text` at most 10 000 characters are kept. */
export type MarkOrder = { mark: MarkName; by: 'operator' | 'flow'; text?: string }

/** From the screen process down. */
export type Order =
  | ({ type: 'open'; signing: Signing | null } & AcquisitionPlan)
  | ({ type: 'mark' } & MarkOrder)
  | ({ type: 'typed' } & TypedOrder)
  | { type: 'finish'; reason: EndReason }
  | { type: 'verdict'; result: unknown }

/** From the acquisition process up. `grown`: the file has more; `fault`: the recording ends here, and why. */
export type Report = { type: 'grown' } | { type: 'fault'; code: ProblemCode; text: string }
