// Lines that gave no reading into a finding: lead, baud rate or battery.
import { criteria } from '../../criteria.table.ts'
import { portsWith } from '../ports-with.ts'
import { type Rule, sight } from '../rule.ts'

export const unreadableLines: Rule = (c) =>
  portsWith(c, ({ unreadable }) => unreadable, criteria.badShare, criteria.badMostShare).map(
    ({ port, name, bad, lines, effect }) =>
      sight(
        effect,
        c.run.tUs,
        `${bad} of ${lines} lines of the ${name} could not be read. Check its lead and plug, the baud rate in the rig, and its battery.`,
        { port, lines, unreadable: bad },
      ),
  )
