// Findings that fail a part into the words of its reject tag: at most five, read at arm's length.
import type { FindingCode } from '../../core/diagnosis/findings.table.ts'

/** Null: the limit that was missed says more. A finding that is not named here never fails a part. */
export const rejectWords: Partial<Record<FindingCode, string | null>> = {
  'leaks-diaphragm': 'diaphragm leaks',
  'never-makes': 'never makes',
  'stuck-closed': 'contact stuck closed',
  'both-closed': 'both contacts closed at once',
  'poor-contact': 'contact poor in some strokes',
  'stayed-made': 'stayed made when let down',
  'did-not-make': 'missed a make',
  'conducts-at-rest': 'conducts at rest',
  'uncounted-strokes': 'failed in an uncounted stroke',
  'odd-stroke': 'out of limits once',
  'breaks-low': 'breaks far too low',
  'high-contact-resistance': 'contact resistance too high',
  'contact-film': 'film on the contact',
  intermittent: 'contact comes and goes',
  'dead-break': 'dead break between its throws',
  spread: 'trips scatter too much',
  'off-rating': null,
  'sticky-first-stroke': 'sticks in its first stroke',
  'sticky-first-break': 'first break sticks',
}
