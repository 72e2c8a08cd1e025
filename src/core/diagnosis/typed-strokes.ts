// Typed zeros and holds against the contact into what a record of the pressure would have shown of a stroke: it stayed made, or did not make.
import { criteria } from '../criteria.table.ts'
import { toArray } from '../model/series.ts'
import { zeroAt } from '../signal/zero.ts'
import { givenText } from '../text/figures-text.ts'
import { type Case, type Sight, sayPressure, sight } from './rule.ts'
import { contactSince } from './typed-state.ts'

/**
 * Made at a zero: for longer than any lag it fails, if the contact was seen to make and a lead on the other pair does not explain it.
 * Open contacts of COM–NC may be a lead that fell off.
 */
export function typedStayedMade(c: Case): Sight[] {
  const zeros = toArray(c.run.typed).filter(({ what }) => what === 'zero')
  const made = zeros.flatMap(({ tUs }) => {
    const seen = contactSince(c, tUs)
    return seen?.actuated ? [{ tUs, forS: seen.forS }] : []
  })
  const worst = made.toSorted((a, b) => b.forS - a.forS)[0]
  if (!worst) return []
  const slowestS = criteria.mostLagS + c.streams.contactIntervalS + (c.typed?.reactionS ?? 0)
  const certain = worst.forS > slowestS && c.edges[0]?.to === true && c.setup.rig.pair !== 'com-nc'
  const advice = certain
    ? 'Reject it: it does not drop out.'
    : 'See that the leads are on the pair that is meant and hold, vent for longer, and repeat; if it stays reject it.'
  return [
    sight(
      certain ? 'fail' : 'undecided',
      worst.tUs,
      `At a typed zero the switch was made, for ${givenText(worst.forS, 3)} s so far. ${advice}`,
      { zeros: made.length, delayS: worst.forS, limitS: slowestS },
    ),
  ]
}

/** Held at more than the high make limit and not made: a pair that conducts there is seen by no lead that fell off. */
export function typedDidNotMake(c: Case): Sight[] {
  const { rating, rig } = c.setup
  const highPa = rating.limits.make?.highPa
  const overPa = highPa == null ? criteria.peakShare * rating.ratedPa : highPa + (c.measured.make.estimate.UPa ?? 0)
  const missed = toArray(c.run.typed).flatMap(({ what, tUs, rawPa }) => {
    const pressurePa = rawPa - zeroAt(c.zero, tUs)
    if (!what.startsWith('hold') || pressurePa <= overPa) return []
    const seen = contactSince(c, tUs)
    return seen === null || seen.actuated ? [] : [{ tUs, pressurePa, forS: seen.forS }]
  })
  const first = missed[0]
  if (!first) return []
  const certain = missed.some(({ forS }) => forS > criteria.mostLagS) && rig.pair !== 'com-no'
  const advice = certain ? 'Reject it.' : 'See that both leads hold, and repeat; if it happens again reject it.'
  return [
    sight(
      certain ? 'fail' : 'undecided',
      first.tUs,
      `Held at ${sayPressure(c, first.pressurePa)} the switch was not made. ${advice}`,
      { strokes: missed.length, reachedPa: first.pressurePa, limitPa: overPa },
    ),
  ]
}
