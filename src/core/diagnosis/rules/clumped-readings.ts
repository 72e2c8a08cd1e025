// Lines of an instrument that came several at once into a finding: machine or adapter handed them over late.
import { criteria } from '../../criteria.table.ts'
import { portsWith } from '../ports-with.ts'
import { type Rule, sight } from '../rule.ts'

export const clumpedReadings: Rule = (c) =>
  portsWith(c, ({ clumped }) => clumped, criteria.clumpedShare, criteria.clumpedMostShare).map(
    ({ port, name, bad, lines, effect }) =>
      sight(
        effect,
        c.run.tUs,
        `${bad} of ${lines} lines of the ${name} came late, several at once; their times are known less well. Shorten the latency timer of the adapter, try another USB port, and close other programs.`,
        { port, lines, clumped: bad, clumps: c.quality[port]?.clumps ?? null },
      ),
  )
