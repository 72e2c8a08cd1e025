// A part and a rig with a second manometer into what it can prove of the line, told before the test.
import type { Rating } from '../model/part.ts'
import type { RigSpec } from '../model/rig.ts'
import { mostLeftPa } from '../uncertainty/line-drop.ts'
import { type Unstated, unstatedAt } from '../uncertainty/unstated-at.ts'
import { expectedPoints } from './expected-test.ts'

export type SecondCapability = {
  /** Why it proves nothing; null where it can, once a pinched hose has shown that it sits at the switch. */
  why: 'overdue' | Unstated | null
  /** What it leaves open of hose and leak at the expected make at the least, Pa: its own accuracy, zero and digit, one-sided 95 %. */
  leavesPa: number
}

/** `day` as `YYYY-MM-DD`; null for a rig without a second manometer. */
export function secondCapability(rating: Rating, { atSwitch }: RigSpec, day: string): SecondCapability | null {
  if (atSwitch === null) return null
  const { makePa, breakPa } = expectedPoints(rating)
  const overdue = atSwitch.due !== null && day > atSwitch.due
  return {
    why: overdue ? 'overdue' : unstatedAt(atSwitch, [makePa, breakPa]),
    leavesPa: mostLeftPa(atSwitch, makePa),
  }
}
