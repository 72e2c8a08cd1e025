// Uncertain inputs with sensitivities, perhaps correlated, into the combined standard uncertainty and its degrees of
// freedom.
import { effectiveDof } from './welch-satterthwaite.ts'

export type UncertainInput = { u: number; sensitivity: number; dof: number | null }

/** Correlation coefficient r of the inputs at two places in the list; a pair that is not named is uncorrelated. */
export type Correlation = { between: readonly [number, number]; r: number }

/**
 * Combined standard uncertainty: JCGM 100:2008 (GUM), 5.1.2 eq. 10 and 5.2.2 eq. 16. 0 without inputs.
 *
 * The degrees of freedom are those of G.4.1, which holds for independent parts only. So inputs that are correlated,
 * directly or through others, count as one part, with the least degrees of freedom among them: cautious, and right
 * where they come from the same n observations. null = unlimited.
 */
export function combine(
  inputs: readonly UncertainInput[],
  correlations: readonly Correlation[] = [],
): { uc: number; dof: number | null } {
  const contributions = inputs.map((input) => input.sensitivity * input.u)
  const group = inputs.map((_, index) => index)
  for (const { between, r } of correlations) {
    if (r === 0) continue
    const [kept, joined] = [group[between[0]], group[between[1]]]
    for (const [index, of] of group.entries()) if (of === joined) group[index] = kept!
  }
  const parts = [...new Set(group)].map((id) => {
    let variance = 0
    let least = Number.POSITIVE_INFINITY
    for (const [index, contribution] of contributions.entries()) {
      if (group[index] !== id || contribution === 0) continue
      variance += contribution ** 2
      least = Math.min(least, inputs[index]?.dof ?? Number.POSITIVE_INFINITY)
    }
    for (const { between, r } of correlations)
      if (group[between[0]] === id) variance += 2 * r * contributions[between[0]]! * contributions[between[1]]!
    // Full anti-correlation may leave a rounding error below zero.
    return { u: Math.sqrt(Math.max(variance, 0)), dof: least === Number.POSITIVE_INFINITY ? null : least }
  })
  return { uc: Math.hypot(...parts.map((part) => part.u)), dof: effectiveDof(parts) }
}
