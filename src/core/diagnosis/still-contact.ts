// A run whose contact never changes in any stroke into what its pressure and the network tell of the mechanism.
import { criteria } from '../criteria.table.ts'
import { type ContactState, stateOf } from '../model/samples.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { median } from '../statistics/mean.ts'
import { type Case, hasTransition, peakPa } from './rule.ts'
import { stuckSpell } from './stuck-spell.ts'

export type StillContact = {
  /** When the first stroke was at its peak, µs; and how far any of them went. */
  peakUs: number
  reachedPa: number
  strokes: number
  /** NC opened and NO never closed, as the network sees it. */
  noIsDead: boolean
  /** Strokes in which the mechanism kicked at one pressure; whether these are enough, and how large they are. */
  kicks: number
  repeated: boolean
  kickPa: number
  /** The wired pair was never seen closed. */
  open: boolean
}

/** Null where the contact changed, where no stroke was drawn, and where another finding tells why it stays as it is. */
export function stillContact(c: Case): StillContact | null {
  const spans = [...c.strokes, ...(c.openStroke ? [c.openStroke] : [])]
  const first = spans[0]
  if (!first || hasTransition(c) || c.contact.length === 0 || stuckSpell(c) !== null) return null
  const { rating, rig } = c.setup
  if (rig.pair === 'network' && saw(c, (state) => state === 'both')) return null
  const found = c.blindKicks.flatMap(({ kick }) => kick ?? [])
  const typicalPa = median(found.map((k) => k.atPa)) ?? 0
  // The mechanism moves at one pressure; a change of the hand's pace that looks like a kick does so anywhere.
  const kicks = found.filter((k) => Math.abs(k.atPa - typicalPa) < criteria.blindKickShare * rating.ratedPa)
  return {
    peakUs: first.peakUs,
    reachedPa: peakPa(c),
    strokes: spans.length,
    noIsDead: rig.pair === 'network' && sawOpenAbove(c, rating.ratedPa) && saw(c, (state) => state === 'nc-closed'),
    kicks: kicks.length,
    repeated: kicks.length >= Math.max(criteria.blindKicks, spans.length / 2),
    kickPa: kicks.reduce((sum, k) => sum + k.sizePa, 0) / Math.max(1, kicks.length),
    open: !saw(c, (state) => !['open', 'neither', 'lead-off', 'unknown'].includes(state)),
  }
}

/** Whether the contact was read in such a state. */
function saw({ contact: { of, length } }: Case, isSought: (state: ContactState, tUs: number) => boolean): boolean {
  for (let i = 0; i < length; i++) if (isSought(stateOf(of.state[i]), of.tUs[i]!)) return true
  return false
}

function sawOpenAbove(c: Case, ratedPa: number): boolean {
  return saw(c, (state, tUs) => state === 'neither' && pressureAt(c.track, tUs) > ratedPa)
}
