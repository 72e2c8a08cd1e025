// A sample into its most outlying value, and how far out a value may lie by chance.
import { mean, sampleSd } from './mean.ts'
import { studentQuantile } from './student.ts'

/**
 * Grubbs' statistic: greatest distance from the mean in sample standard deviations, and which value has it. null below
 * three values or where all are alike. NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
 */
export function grubbs(values: readonly number[]): { g: number; index: number } | null {
  const centre = mean(values)
  const sd = sampleSd(values)
  if (values.length < 3 || centre === null || !sd) return null
  const distances = values.map((value) => Math.abs(value - centre))
  const greatest = Math.max(...distances)
  return { g: greatest / sd, index: distances.indexOf(greatest) }
}

/**
 * The value that Grubbs' statistic of n values passes with probability `alpha` where none is foreign; `sides` 1 = the
 * suspect side was chosen beforehand, 2 = either. NaN below three values. Same source.
 */
export function grubbsCritical(n: number, alpha: number, sides: 1 | 2): number {
  const t2 = studentQuantile(1 - alpha / (sides * n), n - 2) ** 2
  return ((n - 1) / Math.sqrt(n)) * Math.sqrt(t2 / (n - 2 + t2))
}
