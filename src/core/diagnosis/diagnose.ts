// All rules over one case into the findings that are told: a cause silences its symptoms.
import type { Finding, FindingEffect } from '../model/result.ts'
import { type FindingCode, findingRows } from './findings.table.ts'
import type { Case, Sight } from './rule.ts'

/** A finding with the time it is first known, which orders those of one effect. */
export type Found = Sight & { code: FindingCode }

/** From the gravest on. */
const effects: readonly FindingEffect[] = ['void', 'fail', 'undecided', 'note']

/** Findings of a case, ordered by effect, then time. */
export function diagnose(c: Case): Finding[] {
  const codes = Object.keys(findingRows) as FindingCode[]
  return tell(codes.flatMap((code) => findingRows[code].rule(c).map((sight) => ({ code, ...sight }))))
}

/**
 * Of all that was found what is told, ordered by effect, then time. A cause silences findings of a later rank, where they
 * are no graver than itself: what is told is as grave as the gravest found, and a note beside a fail is a fail.
 */
export function tell(found: readonly Found[]): Finding[] {
  const placeOf = ({ effect }: Found) => effects.indexOf(effect)
  const silences = (cause: Found, f: Found) => {
    const [before, after] = [findingRows[cause.code].rank, findingRows[f.code].rank]
    return before !== null && after !== null && before < after && placeOf(cause) <= placeOf(f)
  }
  return found
    .filter((f) => !found.some((cause) => silences(cause, f)))
    .toSorted((a, b) => placeOf(a) - placeOf(b) || a.tUs - b.tUs)
    .map(({ tUs: _, ...told }) => told)
}
