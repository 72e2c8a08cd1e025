// The states of both throws into a finding: both stay open for too long.
import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** Both throws open for longer, or over more pressure, than a snap switch needs. Only the network sees both throws. */
export const deadBreak: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const limitPa = criteria.deadBreakShare * c.setup.rating.ratedPa
  let start = -1
  for (let i = 0; i <= c.contact.length; i++) {
    if (c.contact[i]?.state === 'neither') {
      if (start < 0) start = i
      continue
    }
    const [from, to] = [c.contact[start], c.contact[i - 1]]
    const before = c.contact[start - 1]?.state
    const after = c.contact[i]?.state
    start = -1
    // Only a passage from one throw to the other is a break; a lead coming loose is not.
    if (!from || !to || before === after || !before?.endsWith('-closed') || !after?.endsWith('-closed')) continue
    const forS = (to.tUs - from.tUs) / 1e6
    const widthPa = Math.abs(pressureAt(c.track, to.tUs) - pressureAt(c.track, from.tUs))
    const readings = i - c.contact.indexOf(from)
    const long = readings > criteria.deadBreakReadings && forS > criteria.deadBreakS
    if (!(long || widthPa > limitPa)) continue
    return [
      sight(
        'fail',
        from.tUs,
        `Both throws stayed open for ${forS.toFixed(1)} s over ${sayPressure(c, widthPa)} of a slow stroke: the snap action is worn. Reject the switch.`,
        { forS, widthPa, readings },
      ),
    ]
  }
  return []
}
