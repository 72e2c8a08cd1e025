// The codes of all findings into the rule that sees each, the effects it may have, and its rank among causes and symptoms.
import type { FindingEffect } from '../model/result.ts'
import type { Rule } from './rule.ts'
import { bothClosed } from './rules/both-closed.ts'
import { breaksLow } from './rules/breaks-low.ts'
import { chatter } from './rules/chatter.ts'
import { clumpedReadings } from './rules/clumped-readings.ts'
import { conductsAtRest } from './rules/conducts-at-rest.ts'
import { contactFilm } from './rules/contact-film.ts'
import { deadBreak } from './rules/dead-break.ts'
import { didNotMake } from './rules/did-not-make.ts'
import { discardedStrokes } from './rules/discarded-strokes.ts'
import { displayCeiling } from './rules/display-ceiling.ts'
import { fitContradicted } from './rules/fit-contradicted.ts'
import { frozenReading } from './rules/frozen-reading.ts'
import { highContactResistance } from './rules/high-contact-resistance.ts'
import { implausibleReadings } from './rules/implausible-readings.ts'
import { intermittent } from './rules/intermittent.ts'
import { jerkyDraw } from './rules/jerky-draw.ts'
import { keyMissed } from './rules/key-missed.ts'
import { lagConflict } from './rules/lag-conflict.ts'
import { lagNotProved } from './rules/lag-not-proved.ts'
import { leadOff } from './rules/lead-off.ts'
import { leaksDiaphragm } from './rules/leaks-diaphragm.ts'
import { leaksLine } from './rules/leaks-line.ts'
import { lineNotProved } from './rules/line-not-proved.ts'
import { lowBattery } from './rules/low-battery.ts'
import { manometersDiffer } from './rules/manometers-differ.ts'
import { meterAutoRange } from './rules/meter-auto-range.ts'
import { meterOverdue } from './rules/meter-overdue.ts'
import { neverMakes } from './rules/never-makes.ts'
import { noCommon } from './rules/no-common.ts'
import { noReading } from './rules/no-reading.ts'
import { oddStroke } from './rules/odd-stroke.ts'
import { offRating } from './rules/off-rating.ts'
import { onNcPair } from './rules/on-nc-pair.ts'
import { onNoPair } from './rules/on-no-pair.ts'
import { outsideBracket } from './rules/outside-bracket.ts'
import { outsideCertificate } from './rules/outside-certificate.ts'
import { outsideScale } from './rules/outside-scale.ts'
import { pluggedLine } from './rules/plugged-line.ts'
import { poorContact } from './rules/poor-contact.ts'
import { portsSwapped } from './rules/ports-swapped.ts'
import { secondProvesNothing } from './rules/second-proves-nothing.ts'
import { slowDisplay } from './rules/slow-display.ts'
import { spread } from './rules/spread.ts'
import { stayedMade } from './rules/stayed-made.ts'
import { stickyFirstBreak } from './rules/sticky-first-break.ts'
import { stickyFirstStroke } from './rules/sticky-first-stroke.ts'
import { stuckClosed } from './rules/stuck-closed.ts'
import { twoPointCertificate } from './rules/two-point-certificate.ts'
import { typedContact } from './rules/typed-contact.ts'
import { typedPressures } from './rules/typed-pressures.ts'
import { uncountedStrokes } from './rules/uncounted-strokes.ts'
import { unitChanged } from './rules/unit-changed.ts'
import { unreadableLines } from './rules/unreadable-lines.ts'
import { unseenStrokes } from './rules/unseen-strokes.ts'
import { waterInLine } from './rules/water-in-line.ts'
import { weakening } from './rules/weakening.ts'
import { wrongPort } from './rules/wrong-port.ts'
import { zeroMoved } from './rules/zero-moved.ts'
import { zeroingPauses } from './rules/zeroing-pauses.ts'

type Row = {
  rule: Rule
  /** From the gravest on; the rule chooses one where there are more. */
  effects: readonly FindingEffect[]
  /** A cause silences findings of a greater rank, where they are no graver than itself; null: neither cause nor symptom. */
  rank: number | null
}

export const findings = {
  'unit-changed': { rule: unitChanged, effects: ['void'], rank: 1 },
  'frozen-reading': { rule: frozenReading, effects: ['void'], rank: 1 },
  'low-battery': { rule: lowBattery, effects: ['void'], rank: 1 },
  'ports-swapped': { rule: portsSwapped, effects: ['void'], rank: null },
  'no-reading': { rule: noReading, effects: ['undecided'], rank: null },
  'on-nc-pair': { rule: onNcPair, effects: ['void'], rank: 2 },
  'on-no-pair': { rule: onNoPair, effects: ['void'], rank: 2 },
  'wrong-port': { rule: wrongPort, effects: ['void'], rank: null },
  'water-in-line': { rule: waterInLine, effects: ['void'], rank: 3 },
  'plugged-line': { rule: pluggedLine, effects: ['undecided', 'note'], rank: 4 },
  'meter-auto-range': { rule: meterAutoRange, effects: ['note'], rank: 4 },
  'leaks-diaphragm': { rule: leaksDiaphragm, effects: ['fail'], rank: null },
  'leaks-line': { rule: leaksLine, effects: ['undecided'], rank: null },
  'no-common': { rule: noCommon, effects: ['void'], rank: null },
  'never-makes': { rule: neverMakes, effects: ['fail', 'undecided'], rank: null },
  'stuck-closed': { rule: stuckClosed, effects: ['fail'], rank: null },
  'both-closed': { rule: bothClosed, effects: ['fail'], rank: null },
  'poor-contact': { rule: poorContact, effects: ['fail', 'undecided', 'note'], rank: null },
  'meter-overdue': { rule: meterOverdue, effects: ['note'], rank: null },
  'lead-off': { rule: leadOff, effects: ['undecided', 'note'], rank: null },
  'stayed-made': { rule: stayedMade, effects: ['fail', 'undecided'], rank: null },
  'did-not-make': { rule: didNotMake, effects: ['fail', 'undecided'], rank: null },
  'conducts-at-rest': { rule: conductsAtRest, effects: ['fail', 'undecided'], rank: 9 },
  'uncounted-strokes': { rule: uncountedStrokes, effects: ['fail', 'undecided'], rank: 9 },
  'odd-stroke': { rule: oddStroke, effects: ['fail', 'undecided'], rank: 9 },
  'unseen-strokes': { rule: unseenStrokes, effects: ['undecided'], rank: 9 },
  'breaks-low': { rule: breaksLow, effects: ['fail'], rank: null },
  'high-contact-resistance': { rule: highContactResistance, effects: ['fail', 'undecided', 'note'], rank: null },
  'contact-film': { rule: contactFilm, effects: ['fail', 'note'], rank: null },
  intermittent: { rule: intermittent, effects: ['fail', 'undecided'], rank: null },
  'jerky-draw': { rule: jerkyDraw, effects: ['undecided'], rank: 5 },
  chatter: { rule: chatter, effects: ['undecided'], rank: 5 },
  'dead-break': { rule: deadBreak, effects: ['fail'], rank: null },
  weakening: { rule: weakening, effects: ['undecided'], rank: 6 },
  spread: { rule: spread, effects: ['fail', 'undecided'], rank: 7 },
  'off-rating': { rule: offRating, effects: ['fail'], rank: 8 },
  'sticky-first-stroke': { rule: stickyFirstStroke, effects: ['fail', 'undecided'], rank: null },
  'sticky-first-break': { rule: stickyFirstBreak, effects: ['fail', 'undecided'], rank: null },
  'discarded-strokes': { rule: discardedStrokes, effects: ['undecided'], rank: null },
  'lag-not-proved': { rule: lagNotProved, effects: ['undecided'], rank: null },
  'slow-display': { rule: slowDisplay, effects: ['undecided'], rank: null },
  'line-not-proved': { rule: lineNotProved, effects: ['undecided'], rank: null },
  'fit-contradicted': { rule: fitContradicted, effects: ['undecided'], rank: null },
  'outside-bracket': { rule: outsideBracket, effects: ['undecided'], rank: null },
  'manometers-differ': { rule: manometersDiffer, effects: ['undecided'], rank: null },
  'zero-moved': { rule: zeroMoved, effects: ['void', 'note'], rank: null },
  'outside-certificate': { rule: outsideCertificate, effects: ['undecided'], rank: null },
  'outside-scale': { rule: outsideScale, effects: ['undecided'], rank: null },
  'display-ceiling': { rule: displayCeiling, effects: ['undecided'], rank: null },
  'two-point-certificate': { rule: twoPointCertificate, effects: ['undecided'], rank: null },
  'unreadable-lines': { rule: unreadableLines, effects: ['undecided', 'note'], rank: null },
  'implausible-readings': { rule: implausibleReadings, effects: ['undecided', 'note'], rank: null },
  'clumped-readings': { rule: clumpedReadings, effects: ['undecided', 'note'], rank: null },
  'zeroing-pauses': { rule: zeroingPauses, effects: ['note'], rank: null },
  'typed-pressures': { rule: typedPressures, effects: ['undecided', 'note'], rank: null },
  'typed-contact': { rule: typedContact, effects: ['note'], rank: null },
  'key-missed': { rule: keyMissed, effects: ['undecided'], rank: null },
  'second-proves-nothing': { rule: secondProvesNothing, effects: ['note'], rank: null },
  'lag-conflict': { rule: lagConflict, effects: ['note'], rank: null },
} as const satisfies Record<string, Row>

export type FindingCode = keyof typeof findings
export const findingRows: Readonly<Record<FindingCode, Row>> = findings
