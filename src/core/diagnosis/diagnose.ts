// All rules over one case into the findings that are told: a cause silences its symptoms.
import type { Finding, FindingEffect } from '../model/result.ts'
import {
  deafPorts,
  frozenReading,
  lagConflict,
  meterAutoRange,
  outsideCertificate,
  pluggedLine,
  unitChanged,
  waterInLine,
  zeroMoved,
} from './bench.ts'
import { chatter, contactFilm, deadBreak, highResistance, intermittent } from './contact.ts'
import type { Case, Found, Rule } from './finding.ts'
import { leaks } from './leaks.ts'
import { breaksLow, offRating, spread, stickyFirstStroke, weakening } from './mechanism.ts'
import { networkStates, noTransition, stuckClosed, wrongPair, wrongPort } from './wiring.ts'

const rules: readonly Rule[] = [
  unitChanged,
  frozenReading,
  deafPorts,
  wrongPair,
  wrongPort,
  waterInLine,
  pluggedLine,
  meterAutoRange,
  leaks,
  noTransition,
  stuckClosed,
  networkStates,
  breaksLow,
  highResistance,
  contactFilm,
  intermittent,
  chatter,
  deadBreak,
  weakening,
  spread,
  offRating,
  stickyFirstStroke,
  zeroMoved,
  outsideCertificate,
  lagConflict,
]

/**
 * Ranks of the precedence: a cause silences findings of a later rank, where they are no graver than itself. A lesser one
 * never hides a graver one: a note beside a fail is a fail. Codes not named here neither silence nor are silenced.
 */
const precedence: readonly (readonly string[])[] = [
  ['unit-changed', 'frozen-reading'],
  ['on-nc-pair', 'on-no-pair'],
  ['water-in-line'],
  ['plugged-line', 'meter-auto-range'],
  ['chatter'],
  ['weakening'],
  ['spread'],
  ['off-rating'],
]

/** From the gravest on. */
const effects: readonly FindingEffect[] = ['void', 'fail', 'undecided', 'note']

/** Findings of a case, ordered by effect, then time. */
export function diagnose(c: Case): Finding[] {
  return tell(rules.flatMap((rule) => rule(c)))
}

/** Of all that was found what is told, ordered by effect, then time: as grave as the gravest found, however much is silenced. */
export function tell(found: readonly Found[]): Finding[] {
  const rankOf = ({ code }: Found) => precedence.findIndex((rank) => rank.includes(code))
  const placeOf = ({ effect }: Found) => effects.indexOf(effect)
  const silences = (cause: Found, f: Found) =>
    rankOf(cause) >= 0 && rankOf(cause) < rankOf(f) && placeOf(cause) <= placeOf(f)
  return found
    .filter((f) => !found.some((cause) => silences(cause, f)))
    .toSorted((a, b) => placeOf(a) - placeOf(b) || a.tUs - b.tUs)
    .map(({ tUs: _, ...told }) => told)
}
