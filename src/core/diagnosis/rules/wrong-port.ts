// Edges into a finding: pressure the other way trips the switch.
import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** Suction here never trips it, but pressure the other way does. */
export const wrongPort: Rule = (c) => {
  if (c.cycles.some((cycle) => cycle.edges.length > 0 && cycle.make)) return []
  const limitPa = -criteria.restShare * c.setup.rating.ratedPa
  const edge = c.edges.find((e) => e.to && pressureAt(c.track, e.hiUs) < limitPa)
  if (!edge) return []
  const atPa = pressureAt(c.track, edge.hiUs)
  return [
    sight(
      'void',
      edge.hiUs,
      `The switch trips at ${sayPressure(c, atPa)}, the wrong way round. Check the sign of the manometer (suctionSign) first, then move the hose to the other port and mark it.`,
      { pressurePa: atPa },
    ),
  ]
}
