// All rules over one case into its evidence, which the verdict counts, and the findings that are told of it: a cause silences its symptoms.
import type { Finding, FindingEffect, LimitResult } from '../model/result.ts'
import { type FindingCode, findingRows } from './findings.table.ts'
import type { Case, Sight } from './rule.ts'
import { type TakeBack, takeBacks } from './take-back.table.ts'

/** A finding with the time it is first known, which orders those of one effect. */
export type Found = Sight & { code: FindingCode }

/** From the gravest on. */
const effects: readonly FindingEffect[] = ['void', 'fail', 'undecided', 'note']

export type Evidence = { found: readonly Found[]; limits: readonly LimitResult[] }

/** What the verdict of a case counts, told or not, and what is told of it. */
export function diagnose(c: Case): Evidence & { told: Finding[] } {
  const codes = Object.keys(findingRows) as FindingCode[]
  const found = codes.flatMap((code) => findingRows[code].rule(c).map((sight) => ({ code, ...sight })))
  const evidence = takeBack(found, c.limits)
  return { ...evidence, told: tell(evidence.found) }
}

/**
 * Fails that a fault of the bench takes back have its effect from then on, undecided or void: those of the table and no
 * other. With an effect less than that a cause takes nothing back.
 */
export function takeBack(found: readonly Found[], limits: readonly LimitResult[]): Evidence {
  const causes = takeBacks.flatMap((row) => {
    const effect = found.find(({ code, effect }) => code === row.cause && taking.includes(effect))?.effect
    return effect === undefined ? [] : [{ ...row, effect }]
  })
  const effectOf = (takes: (row: TakeBack) => boolean) =>
    taking.find((effect) => causes.some((row) => row.effect === effect && takes(row)))
  return {
    found: found.map((f) => {
      const effect = f.effect === 'fail' ? effectOf(({ takes }) => takes.includes(f.code)) : undefined
      return effect === undefined ? f : { ...f, effect }
    }),
    // A limit is not part of a void: the cause says void by itself.
    limits: limits.map((l) =>
      l.outcome === 'fail' && effectOf((row) => row.limits.includes(l.name)) ? { ...l, outcome: 'undecided' } : l,
    ),
  }
}

/** Effects of a cause that takes a fail back, the gravest first. */
const taking: readonly FindingEffect[] = ['void', 'undecided']

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
