// A limit's name into the outcome that it has in a case.
import type { LimitResult, Outcome } from '../model/result.ts'
import type { Case } from './rule.ts'

/** The outcome of a limit; undefined where the part has no such limit. */
export const outcomeOf = (c: Case, name: LimitResult['name']): Outcome | undefined =>
  c.limits.find((l) => l.name === name)?.outcome
