// A value, its uncertainty and its limits into the probability that it conforms, and into pass, fail or undecided.
import { criteria } from '../criteria.table.ts'
import type { Rating } from '../model/part.ts'
import type { BudgetLine } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import { normalQuantile } from '../statistics/normal.ts'
import { studentCdf } from '../statistics/student.ts'

/**
 * Probability that the true value lies within the limits (null = none on that side), for a value y with standard
 * uncertainty u: JCGM 106:2012, 7.2 to 7.4 for the normal distribution; with limited degrees of freedom Student's t,
 * scaled and shifted, stands in its place (JCGM 101:2008, 6.4.9). null where y is not finite or u not above 0.
 */
export function conformanceProbability(
  yPa: number,
  uPa: number,
  lowPa: number | null,
  highPa: number | null,
  dof: number | null,
): number | null {
  if (!Number.isFinite(yPa) || !(uPa > 0)) return null
  const below = (limitPa: number) => studentCdf((limitPa - yPa) / uPa, dof ?? Number.POSITIVE_INFINITY)
  return (highPa === null ? 1 : below(highPa)) - (lowPa === null ? 0 : below(lowPa))
}

/**
 * Guards of a limit as factors r of the expanded uncertainty, w = r·U: ILAC-G8:09/2019, 4.2.2 and Table 1. The rig's
 * rule sets them (`simple`: 0; `risk`: w = z(1 − risk)·u, JCGM 106:2012, 8.3.2.3, with U = z(0.975)·u); on the side where a wrong switch is dangerous r is at least 1, a risk of about 2.5 % at
 * the limit. Too low a point lets a draft-proving switch prove a draft that is not there; too high a point keeps a
 * blockage switch from seeing the blockage; a wrong differential is dangerous on both sides.
 */
export function guardBandsOf(
  kind: Rating['kind'],
  quantity: BudgetLine['quantity'],
  { rule, guardFactor, risk }: Pick<RigSpec, 'rule' | 'guardFactor' | 'risk'>,
): { low: number; high: number } {
  const factor =
    rule === 'simple'
      ? 0
      : rule === 'risk'
        ? normalQuantile(1 - risk) / normalQuantile(criteria.coverageQuantile)
        : guardFactor
  const safe = Math.max(factor, 1)
  if (quantity === 'differential') return { low: safe, high: safe }
  return kind === 'draft-proving' ? { low: safe, high: factor } : { low: factor, high: safe }
}

/**
 * Guarded decision on a value y with expanded uncertainty U: pass inside the limits drawn in by their guards (factors
 * of U), fail outside the limits moved out by them, else undecided. JCGM 106:2012, 8.3.2 (guarded acceptance) and 8.3.3
 * (guarded rejection). `allow` = how much lower or higher the truth may be beside U, Pa. A limit that is null has no guard. Where y or U is no finite number it is undecided, never a
 * pass.
 */
export function outcome(
  yPa: number,
  UPa: number,
  lowPa: number | null,
  highPa: number | null,
  guardLow: number,
  guardHigh: number,
  allow: { lowPa: number; highPa: number } = { lowPa: 0, highPa: 0 },
): 'pass' | 'fail' | 'undecided' {
  if (!Number.isFinite(yPa) || !Number.isFinite(UPa)) return 'undecided'
  // The truth may be lower or higher by what is allowed for: it passes where both ends do, and fails where neither may.
  const within = (fromPa: number, toPa: number, sign: 1 | -1) =>
    (lowPa === null || fromPa >= lowPa + sign * guardLow * UPa) &&
    (highPa === null || toPa <= highPa - sign * guardHigh * UPa)
  const [leastPa, mostPa] = [yPa - allow.lowPa, yPa + allow.highPa]
  if (within(leastPa, mostPa, 1)) return 'pass'
  return within(mostPa, leastPa, -1) ? 'undecided' : 'fail'
}
