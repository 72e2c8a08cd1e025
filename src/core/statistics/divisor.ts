// Half-widths of bounded distributions into standard uncertainties: the number to divide by.

/**
 * Rectangular: JCGM 100:2008 (GUM), 4.3.7 eq. 7. A digit or a range of full width w has the half-width w/2, so w/√12.
 */
export const rectangularDivisor = Math.sqrt(3)

/** Arcsine, a quantity that swings as a sine of the given amplitude: JCGM 100:2008 (GUM), H.1.3.4. */
export const arcsineDivisor = Math.SQRT2

/**
 * Symmetric trapezoid of half-width 1 at the base and `beta` at the top: JCGM 100:2008 (GUM), 4.3.9 eq. 9a. `beta` 0 is
 * the triangle (√6), 1 the rectangle (√3).
 */
export function trapezoidDivisor(beta: number): number {
  return Math.sqrt(6 / (1 + beta * beta))
}
