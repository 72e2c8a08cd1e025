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

/** Ranks of the precedence: a finding silences those of every later rank. Codes not named here neither silence nor are silenced. */
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

const effects: readonly FindingEffect[] = ['void', 'fail', 'undecided', 'note']

/** Findings of a case, ordered by effect, then time. */
export function diagnose(c: Case): Finding[] {
  const all = rules.flatMap((rule) => rule(c))
  const rankOf = (code: string) => precedence.findIndex((rank) => rank.includes(code))
  const top = Math.min(...all.map((f) => rankOf(f.code)).filter((r) => r >= 0))
  return all
    .filter((f) => rankOf(f.code) <= top)
    .sort((a: Found, b: Found) => effects.indexOf(a.effect) - effects.indexOf(b.effect) || a.tUs - b.tUs)
    .map(({ tUs: _, ...told }) => told)
}
