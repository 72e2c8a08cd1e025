// A value or a lag of the whole test that the raw readings rule out into a finding: no pressure is decided by it.
import { criteria } from '../../criteria.table.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** The fit lies outside the brackets of its trips, or its lag is none that a bench can have. */
export const fitContradicted: Rule = (c) => {
  const { value, lagS } = c.contradicted
  const next = 'No pressure is decided by it: look at the plot, draw the strokes at one even pace, and test again.'
  if (value !== null) {
    const { transition, valuePa, lowPa, highPa } = value
    const text = `The ${transition} was worked out as ${sayPressure(c, valuePa)}, but the readings about the trips allow ${sayPressure(c, lowPa)} to ${sayPressure(c, highPa)} only. ${next}`
    return [sight('undecided', c.run.tUs, text, { transition, valuePa, lowPa, highPa })]
  }
  if (lagS === null) return []
  const { mostLagS, mostDisplayS } = criteria
  const text = `A lag of ${lagS.toFixed(2)} s was worked out, but a bench has between −${mostDisplayS} s and ${mostLagS} s. ${next}`
  return [sight('undecided', c.run.tUs, text, { lagS, leastS: -mostDisplayS, mostS: mostLagS })]
}
