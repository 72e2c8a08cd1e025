// The states of both throws into a finding: both stay open for too long.
import { criteria } from '../../criteria.table.ts'
import { stateOf } from '../../model/samples.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** Both throws open for longer, or over more pressure, than a snap switch needs. Only the network sees both throws. */
export const deadBreak: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const limitPa = criteria.deadBreakShare * c.setup.rating.ratedPa
  const { of, length } = c.contact
  const stateAt = (row: number) => stateOf(of.state[row])
  let start = -1
  for (let i = 0; i < length; i++) {
    if (stateAt(i) === 'neither') {
      if (start < 0) start = i
      continue
    }
    const [first, before, after] = [start, stateAt(start - 1), stateAt(i)]
    start = -1
    // Only a passage from one throw to the other is a break; a lead coming loose is not.
    if (first < 0 || before === after || !before.endsWith('-closed') || !after.endsWith('-closed')) continue
    const [fromUs, toUs] = [of.tUs[first]!, of.tUs[i - 1]!]
    const forS = (toUs - fromUs) / 1e6
    const widthPa = Math.abs(pressureAt(c.track, toUs) - pressureAt(c.track, fromUs))
    const readings = i - first
    const long = readings > criteria.deadBreakReadings && forS > criteria.deadBreakS
    if (!(long || widthPa > limitPa)) continue
    return [
      sight(
        'fail',
        fromUs,
        `Both throws stayed open for ${forS.toFixed(1)} s over ${sayPressure(c, widthPa)} of a slow stroke: the snap action is worn. Reject the switch.`,
        { forS, widthPa, readings },
      ),
    ]
  }
  return []
}
