// Several uncertainties, each with its degrees of freedom, into the effective degrees of freedom of their sum.

/** One independent part of an uncertainty: standard uncertainty and degrees of freedom, null = unlimited. */
export type UncertaintyPart = { u: number; dof: number | null }

/**
 * Effective degrees of freedom by the Welch-Satterthwaite formula, JCGM 100:2008 (GUM), G.4.1 eq. G.2b; a real number,
 * not cut down to a whole one. null = unlimited: also where nothing is uncertain, or nothing with a limit is.
 */
export function effectiveDof(parts: readonly UncertaintyPart[]): number | null {
  let variance = 0
  let spread = 0
  // Relative to the greatest u, so that fourth powers of small numbers do not vanish.
  const scale = Math.max(...parts.map((part) => Math.abs(part.u)), 0)
  if (scale === 0) return null
  for (const { u, dof } of parts) {
    const share = (u / scale) ** 2
    variance += share
    if (dof !== null && share > 0) spread += share ** 2 / dof
  }
  return spread > 0 ? variance ** 2 / spread : null
}
