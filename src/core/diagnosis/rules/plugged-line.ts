// The lag of the hose, and what a second manometer sees it hold back, into a finding: the hose narrows or is plugged.
import { criteria } from '../../criteria.table.ts'
import { hoseShown } from '../../trips/lag/hose.ts'
import { type Case, type Rule, type Sight, sayPressure, sight } from '../rule.ts'

/** The hose delays the switch, so that the trip depends on the rate; or it holds pressure back at any pace. */
export const pluggedLine: Rule = (c) => {
  const held = heldBack(c)
  const delayed = delays(c)
  return delayed.some(({ effect }) => effect === 'undecided') || held === null ? delayed : [held]
}

/** A plug that yields only beyond some pressure shows at no pace: only a manometer on either side of it sees it. */
function heldBack(c: Case): Sight | null {
  const bothWays = c.lineProof?.drop.bothWays
  if (!bothWays || bothWays.surelyPa <= 0 || bothWays.heldPa <= criteria.lineHoldsShare * c.setup.rating.ratedPa)
    return null
  const { heldPa, surelyPa } = bothWays
  return sight(
    'undecided',
    c.run.tUs,
    `The line holds back ${sayPressure(c, heldPa)} on the way to the switch, up and down: the two manometers show it. Clear or replace the hose, and repeat.`,
    { heldPa, surelyPa },
  )
}

const delays: Rule = (c) => {
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
