// The releases of all strokes into a finding: the contact stayed made after a vent.

import { criteria } from '../../criteria.table.ts'
import { median } from '../../statistics/mean.ts'
import { invertedStrokes } from '../inverted-strokes.ts'
import { outcomeOf } from '../outcome-of.ts'
import { mustReleasePa, type Release, releases } from '../releases.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'
import { sessionLagS } from '../session-lag.ts'
import { typedStayedMade } from '../typed-strokes.ts'

/**
 * Conducting below the pressure at which it must have let go, for longer than the lags allow; or for longer than its other
 * releases after a vent, in which the lag cancels. Open contacts of COM–NC may be a lead that fell off.
 */
export const stayedMade: Rule = (c) => {
  if (invertedStrokes(c) !== null) return []
  const atZero = typedStayedMade(c)
  if (atZero.length > 0) return atZero
  const intervalsS = c.streams.contactIntervalS + c.streams.pressureIntervalS
  const vented = releases(c).filter(({ delayS }) => delayS > 0)
  const late = vented.filter((release) => {
    const others = vented.filter((other) => other !== release).map(({ delayS }) => delayS)
    const usualS = others.length < criteria.releases ? null : median(others)
    const beyondLags = release.delayS > criteria.mostLagS + intervalsS
    const beyondOthers = usualS !== null && release.delayS > usualS + criteria.releaseIntervals * intervalsS
    return beyondLags || beyondOthers
  })
  // It let go of nothing before the pressure rose again, or later than this session's lags allow: too little to say more.
  const allowedS = sessionLagS(c) + criteria.releaseIntervals * intervalsS
  const doubtful = vented.filter(
    (release) => (release.never || release.delayS > allowedS) && !isToldElsewhere(c, release.stroke),
  )
  const worst = late.toSorted((a, b) => b.delayS - a.delayS)[0] ?? doubtful[0] ?? notReleased(c)
  if (!worst) return []
  const conducts = c.setup.rig.pair !== 'com-nc'
  const certain = late.length > 0 && conducts
  const strokes = late.length > 0 ? late : doubtful.length > 0 ? doubtful : [worst]
  const where = `in stroke ${strokes.map(({ stroke }) => stroke).join(', ')}`
  const below = sayPressure(c, mustReleasePa(c))
  const stayed =
    worst.delayS > 0
      ? `Below ${below} the switch stayed made for ${worst.delayS.toFixed(1)} s ${where}`
      : `The switch did not let go ${where}`
  const advice = certain
    ? 'Reject it: it does not drop out.'
    : late.length > 0
      ? 'See that both leads hold, and repeat; if it stays reject it.'
      : worst.never
        ? 'Vent for longer between the strokes, and repeat.'
        : 'Repeat the test; if it happens again reject it.'
  return [
    sight(certain ? 'fail' : 'undecided', worst.ventedUs, `${stayed}. ${advice}`, {
      strokes: strokes.length,
      delayS: worst.delayS,
      limitS: criteria.mostLagS + intervalsS,
    }),
  ]
}

/** A part that breaks too low is told so; a held display or another unit tells no pressure. */
function isToldElsewhere(c: Case, stroke: number): boolean {
  const why = c.cycles[stroke - 1]?.why
  return why === 'frozen' || why === 'unit-changed' || outcomeOf(c, 'break') === 'fail'
}

/** A stroke that went down to where a stroke ends, and never let go before the next one or for as long as any lag: the others did. */
function notReleased(c: Case): Release | undefined {
  const { contactIntervalS, pressureIntervalS } = c.streams
  const slowestUs = (criteria.mostLagS + contactIntervalS + pressureIntervalS) * 1e6
  const cycle = c.cycles.find(({ make, break: back, span, stroke }, i) => {
    const nextUs = (c.cycles[i + 1]?.span ?? c.openStroke)?.startUs ?? c.run.tUs - slowestUs
    return make !== null && back === null && nextUs > span.endUs && !isToldElsewhere(c, stroke)
  })
  return cycle && { stroke: cycle.stroke, ventedUs: cycle.span.endUs, delayS: 0, never: true }
}
