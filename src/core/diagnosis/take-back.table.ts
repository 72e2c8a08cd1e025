// Faults of the bench into the fails that they take back, each with its reason: nothing else ever takes a fail back.
import type { LimitResult } from '../model/result.ts'
import type { FindingCode } from './findings.table.ts'

export type TakeBack = {
  cause: FindingCode
  /** Fails that get the effect of the cause, undecided or void, and never a pass. */
  takes: readonly FindingCode[]
  /** Limits whose fail goes with them. */
  limits: readonly LimitResult['name'][]
  reason: string
}

/** Fails that rest on where it trips, and the limits that say the same. */
const ofPressure = {
  takes: ['off-rating', 'breaks-low', 'spread', 'uncounted-strokes', 'odd-stroke', 'conducts-at-rest'],
  limits: ['make', 'break', 'differential', 'first-make', 'first-break'],
} as const

// A lost contact link and a lag that no meter has need no row: `stayed-made` waits for readings, and for the longest lag.
export const takeBacks: readonly TakeBack[] = [
  {
    cause: 'unit-changed',
    takes: ['stayed-made', ...ofPressure.takes],
    limits: ofPressure.limits,
    reason: 'after the change each pressure is another number, also the one below which it must let go',
  },
  {
    cause: 'frozen-reading',
    takes: ['stayed-made', 'conducts-at-rest'],
    limits: [],
    reason: 'a display that is held shows a vent before it happened',
  },
  {
    cause: 'slow-display',
    takes: ['stayed-made', ...ofPressure.takes],
    limits: ofPressure.limits,
    reason: 'a display so late shows each trip at a pressure that was there before or after',
  },
  {
    cause: 'on-nc-pair',
    ...ofPressure,
    reason: 'on the other throw make and break are taken for each other',
  },
  {
    cause: 'on-no-pair',
    ...ofPressure,
    reason: 'on the other throw make and break are taken for each other',
  },
  {
    cause: 'wrong-port',
    ...ofPressure,
    reason: 'what trips it is not the pressure that was drawn',
  },
  {
    cause: 'water-in-line',
    ...ofPressure,
    reason: 'the column adds a pressure that moves from stroke to stroke',
  },
  {
    cause: 'key-missed',
    takes: ['stayed-made', 'conducts-at-rest', 'did-not-make'],
    limits: [],
    reason: 'a key that was not pressed leaves the contact as it was',
  },
  {
    cause: 'fit-contradicted',
    takes: [...ofPressure.takes, 'intermittent', 'sticky-first-stroke', 'sticky-first-break'],
    // Make, break and differential are decided by the brackets then: a fail of theirs holds.
    limits: ['first-make', 'first-break'],
    reason: 'what the raw readings rule out proves nothing',
  },
]
