// Typed pressures and contact readings into the bracket in which each trip must lie: the second look at a test without a record.
//
// It matches them by its own means, knows no lag and no fitted zero, and lets every zero that was typed be the right one.
import { criteria } from '../criteria.table.ts'
import { isActuated, type Pair } from '../model/pair.ts'
import { stateOf } from '../model/samples.ts'
import type { TypedReading } from '../model/typed.ts'
import type { RawContact, ReadStroke, Span } from './second-reader.ts'

type Changes = { hiUs: number; to: boolean }[]

/** The strokes, each with the brackets of its make and its break; none where no zero was typed. */
export function readTyped(
  { typed, contact }: { typed: readonly TypedReading[]; contact: RawContact },
  { pair, reactionS, pacePaPerS }: { pair: Pair; reactionS: number; pacePaPerS: number },
): ReadStroke[] {
  const zerosPa = typed.filter(({ what }) => what === 'zero').map(({ rawPa }) => rawPa)
  if (zerosPa.length === 0) return []
  const zero = { lowPa: Math.min(...zerosPa), highPa: Math.max(...zerosPa) }
  // A digit, what the hand drew in a reaction, and what the slowest display or bench may be late by.
  const widenPa = (digitPa: number) => digitPa + pacePaPerS * (reactionS + criteria.mostLagS)
  const changes = changesOf(contact, pair)
  return changes.flatMap((change, i): ReadStroke[] => {
    if (!change.to) return []
    const [back, next] = [changes[i + 1], changes[i + 2]]
    const spanOf = (what: 'make' | 'break', fromUs: number, toUs: number): Span | null => {
      const own = typed.filter((r) => r.what === what && r.tUs > fromUs - reactionS * 1e6 && r.tUs <= toUs)
      // Two of them for one change: which is meant is open.
      const [only] = own
      if (only === undefined || own.length > 1) return null
      const { rawPa, digitPa } = only
      return { lowPa: rawPa - zero.highPa - widenPa(digitPa), highPa: rawPa - zero.lowPa + widenPa(digitPa) }
    }
    const endUs = next?.hiUs ?? Number.POSITIVE_INFINITY
    const make = spanOf('make', change.hiUs, endUs)
    const bracket = back ? spanOf('break', back.hiUs, changes[i + 3]?.hiUs ?? Number.POSITIVE_INFINITY) : null
    return [{ peakUs: change.hiUs, peakPa: make?.highPa ?? Number.POSITIVE_INFINITY, make, break: bracket }]
  })
}

/** First readings of the new state, as they arrived. */
function changesOf({ of, length }: RawContact, pair: Pair): Changes {
  const changes: Changes = []
  let before: boolean | null = null
  for (let i = 0; i < length; i++) {
    const to = isActuated(stateOf(of.state[i]), pair)
    if (to === null) continue
    if (before !== null && before !== to) changes.push({ hiUs: of.tUs[i]!, to })
    before = to
  }
  return changes
}
