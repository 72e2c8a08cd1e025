// The trip of the first stroke against the later ones: how far it lies from them, and whether chance makes that.
import { criteria } from '../criteria.table.ts'
import { sampleSd } from '../statistics/mean.ts'
import { studentQuantile } from '../statistics/student.ts'
import type { Case } from './rule.ts'
import { weakening } from './rules/weakening.ts'

export type FarFromRest = { excessPa: number; limitPa: number; n: number }

/**
 * First less mean of the later ones, Pa, where it is more than a new value of the same kind would be: t·s·√(1 + 1/(n − 1)),
 * the prediction interval of a normal sample; n counts the first. Null where it is not, and where too few tell.
 */
export function farFromRest(c: Case, transition: 'make' | 'break'): FarFromRest | null {
  const tripOf = ({ makeValue, breakValue }: Case['cycles'][number]) => (transition === 'make' ? makeValue : breakValue)
  const first = c.cycles[0] && tripOf(c.cycles[0])
  const rest = c.cycles.filter((cycle) => cycle.used).flatMap((cycle) => tripOf(cycle)?.valuePa ?? [])
  const n = rest.length + 1
  // Trips that move from stroke to stroke begin far off: that is the trend's finding.
  if (!first || rest.length < criteria.stickyCycles || weakening(c).length > 0) return null
  const mean = rest.reduce((a, b) => a + b, 0) / rest.length
  const s = sampleSd(rest) ?? 0
  const limitPa = studentQuantile(criteria.stickyQuantile, n - 2) * s * Math.sqrt(1 + 1 / (n - 1))
  const excessPa = first.valuePa - mean
  return Math.abs(excessPa) > limitPa ? { excessPa, limitPa, n } : null
}
