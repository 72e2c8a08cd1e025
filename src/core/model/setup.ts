// What a session begins with: the start event and the numbers of its part and rig.
import type { StartEvent } from './event.ts'
import type { Rating } from './part.ts'
import type { RigSpec } from './rig.ts'

export type Setup = { start: StartEvent; rating: Rating; rig: RigSpec }

/** Whether the test began after the last day on which a certificate is valid; null: none is stated. */
export function isOverdue({ start }: Setup, due: string | null): due is string {
  return due !== null && start.at.slice(0, 10) > due
}
