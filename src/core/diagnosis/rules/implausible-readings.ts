// Wild readings, which neither neighbour shares, into a finding: lead, baud rate or battery.
import { criteria } from '../../criteria.table.ts'
import { portsWith } from '../ports-with.ts'
import { type Rule, sight } from '../rule.ts'

export const implausibleReadings: Rule = (c) =>
  portsWith(c, ({ implausible }) => implausible, criteria.badShare, criteria.badMostShare).map(
    ({ port, name, bad, lines, effect }) =>
      sight(
        effect,
        c.run.tUs,
        `${bad} of ${lines} readings of the ${name} jumped away and back, and were left out. Check its lead, the baud rate in the rig, and its battery.`,
        { port, lines, implausible: bad },
      ),
  )
