// A silent port into a finding: nothing came from it that can be read.
import { criteria } from '../../criteria.table.ts'
import { deafPorts, wrongQuantities } from '../deaf-ports.ts'
import { type Rule, sight } from '../rule.ts'

export const noReading: Rule = (c) => {
  const deaf = deafPorts(c)
  // Exchanged instruments are another finding; and an instrument has a while to begin.
  if (deaf.some((p) => wrongQuantities(p) > 0) || (c.run.end === null && c.run.tUs < criteria.deafUs)) return []
  return deaf.map((p) =>
    sight(
      'undecided',
      c.run.tUs,
      `Nothing readable came from the ${p.name}. Check that it is on, its lead, and the baud rate and driver in the rig.`,
      { port: p.name, faults: p.faults, last: p.lastFault?.text ?? null },
    ),
  )
}
