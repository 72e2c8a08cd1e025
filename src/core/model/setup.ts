// What a session begins with: the start event and the numbers of its part and rig.
import type { StartEvent } from './event.ts'
import type { Rating } from './part.ts'
import type { RigSpec } from './rig.ts'

export type Setup = { start: StartEvent; rating: Rating; rig: RigSpec }
