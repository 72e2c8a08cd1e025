// The lag of the hose into a finding: the hose narrows or is plugged.
import { criteria } from '../../criteria.table.ts'
import { hoseShown } from '../../trips/lag/hose.ts'
import { type Rule, sight } from '../rule.ts'

/** The hose delays the switch: the trip depends on the rate. */
export const pluggedLine: Rule = (c) => {
  const hose =
    hoseShown(c.lag.hose) ?? (c.lag.source === 'estimated' && !c.cycles.some((x) => x.makeTrip?.kick) ? c.lag : null)
  if (!hose || hose.valueS - criteria.coverageFactor * hose.uS <= criteria.hoseWatchS) return []
  const plugged = hose.valueS > criteria.hosePluggedS
  return [
    sight(
      plugged ? 'undecided' : 'note',
      c.run.tUs,
      `The trip depends on the rate as if the hose delayed it by ${hose.valueS.toFixed(1)} s. ${plugged ? 'Clear or replace the hose, and repeat.' : 'Watch the hose: it is narrowing, kinked or long.'}`,
      { lagS: hose.valueS, uLagS: hose.uS },
    ),
  ]
}
