// Limits, findings and the state of the recording into one word. Doubt never passes a part.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import type { Finding, LimitResult, Verdict } from '../model/result.ts'
import { isOverdue, type Setup } from '../model/setup.ts'

/** All that was found, told or not, and the limits, once the bench has taken back what it may. */
type Evidence = { found: readonly Pick<Finding, 'effect' | 'text'>[]; limits: readonly LimitResult[] }

/** The verdict, first that applies: void, not-assessed, fail, undecided, pass. `used` = cycles that count. */
export function decide(run: Run, setup: Setup, used: number, { found, limits }: Evidence): Verdict {
  const { damage, end } = run
  const has = (effect: Finding['effect']) => found.some((f) => f.effect === effect)
  if (damage.corrupt.count > 0 || damage.seal === 'broken' || has('void')) return 'void'
  if (blockedBy(setup, limits) !== null) return 'not-assessed'
  if (has('fail') || limits.some((l) => l.outcome === 'fail')) return 'fail'
  const whole = !damage.torn && damage.seal === 'intact' && end?.reason === 'finished'
  if (has('undecided') || limits.some((l) => l.outcome === 'undecided') || used < criteria.fewestCycles || !whole)
    return 'undecided'
  return 'pass'
}

/**
 * Why measuring is allowed and deciding is not: the purpose, no limit, none on the side where the rated transition is
 * dangerous, a manometer of unknown accuracy or past its date, or a meter past its date where its ohms are to be judged.
 */
export type Blocked =
  | { why: 'purpose' | 'no-limits' | 'no-unsafe-limit' | 'no-accuracy' }
  | { why: 'overdue' | 'meter-overdue'; due: string }

/** What keeps a test from being decided, whatever it measures; null where nothing does. */
export function blockedBy(setup: Setup, limits: readonly LimitResult[]): Blocked | null {
  const { start, rating, rig } = setup
  if (start.purpose === 'free' || start.purpose === 'leak' || start.purpose === 'in-place') return { why: 'purpose' }
  if (limits.every((l) => l.lowPa === null && l.highPa === null)) return { why: 'no-limits' }
  const unsafe = limits.find((l) => l.name === rating.ratedOn)
  const unsafePa = rating.kind === 'draft-proving' ? unsafe?.lowPa : unsafe?.highPa
  if (unsafePa == null) return { why: 'no-unsafe-limit' }
  if (rig.accuracy === null && rig.calibration === null) return { why: 'no-accuracy' }
  const { due, meterDue } = rig
  if (isOverdue(setup, due)) return { why: 'overdue', due }
  return rating.maxOhm !== null && isOverdue(setup, meterDue) ? { why: 'meter-overdue', due: meterDue } : null
}

/** The fail that a verdict of void or not-assessed outranks, as a sentence; null where there is none. */
export function besideOf(verdict: Verdict, { found, limits }: Evidence): string | null {
  if (verdict !== 'void' && verdict !== 'not-assessed') return null
  const finding = found.find((f) => f.effect === 'fail')
  if (finding) return finding.text
  const limit = limits.find((l) => l.outcome === 'fail')
  return limit ? `The ${limit.name} lies outside its limits.` : null
}
