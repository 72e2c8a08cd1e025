// Late closings into a finding: the meter hunts for its range.
import { hoseShown } from '../../trips/lag/hose.ts'
import { type Rule, sight } from '../rule.ts'

export const meterAutoRange: Rule = (c) => {
  const delay = c.lag.meterDelay
  // A hose that makes the switch late does so on the way up most of all.
  if (!delay || hoseShown(c.lag.hose)) return []
  return [
    sight(
      'note',
      c.run.tUs,
      `The meter sees the contact close ${delay.excessS.toFixed(1)} s later than it sees it open; the kick dated these trips instead. Fix its ohm range by hand.`,
      { excessS: delay.excessS, uExcessS: delay.uS },
    ),
  ]
}
