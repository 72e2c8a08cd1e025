// Every single contact reading against the pressure about it into a finding: made where no pressure that was read explains it.

import { criteria } from '../../criteria.table.ts'
import { isActuated } from '../../model/pair.ts'
import { stateOf } from '../../model/samples.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { gapUs } from '../../signal/silence.ts'
import { invertedStrokes } from '../inverted-strokes.ts'
import { outcomeOf } from '../outcome-of.ts'
import { mustReleasePa } from '../releases.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'
import { displayLagS, sessionLagS } from '../session-lag.ts'
import { stuckSpell } from '../stuck-spell.ts'
import { stayedMade } from './stayed-made.ts'

type Span = { fromUs: number; toUs: number }

/**
 * Whatever the strokes: a made contact needs a pressure that went above its low make limit and has not fallen below its low break
 * limit since, all lags allowed. Where the manometer is silent nothing is known. Two readings one after the other are no wild one;
 * open contacts of COM–NC may be a lead that fell off.
 */
export const conductsAtRest: Rule = (c) => {
  // A pair that is seen the wrong way round, a contact that stays closed, a part that fails by where it trips are told by others.
  if (c.cycles.every(({ make }) => make === null) || invertedStrokes(c) !== null) return []
  if (stuckSpell(c) !== null || stayedMade(c).some(({ effect }) => effect === 'fail')) return []
  if (outcomeOf(c, 'make') === 'fail' || outcomeOf(c, 'break') === 'fail') return []
  const certain = spellsOutside(c, madeSpans(c, criteria.mostDisplayS, criteria.mostLagS))
  const doubtful = spellsOutside(c, madeSpans(c, displayLagS(c), sessionLagS(c)))
  const fails = c.setup.rig.pair === 'com-nc' ? [] : certain.filter(({ length }) => length > 1)
  const worst = (fails.length > 0 ? fails : doubtful).toSorted((a, b) => b.length - a.length)[0]
  const first = worst?.[0]
  if (!worst || !first) return []
  const pressurePa = pressureAt(c.track, first.tUs)
  const count = worst.length === 1 ? 'one reading' : `${worst.length} readings`
  const times = doubtful.length > 1 ? `, ${doubtful.length} times in all` : ''
  const advice =
    fails.length > 0 ? 'Reject it.' : 'See to the leads, and repeat the test; if it happens again reject it.'
  return [
    sight(
      fails.length > 0 ? 'fail' : 'undecided',
      first.tUs,
      `At ${sayPressure(c, pressurePa)} the switch was made in ${count}, though no pressure that was drawn explains it${times}. ${advice}`,
      { readings: worst.length, spells: doubtful.length, pressurePa },
    ),
  ]
}

/** When the pressures allow a made contact, and when nobody read them. `displayS`, `lagS`: how late the display and a break may be seen. */
function madeSpans(c: Case, displayS: number, lagS: number): Span[] {
  const { track, streams, setup } = c
  const { limits, ratedPa } = setup.rating
  const releasePa = mustReleasePa(c)
  const { estimate, instrumentU } = c.measured.make
  const openPa = estimate.UPa ?? criteria.coverageFactor * instrumentU
  const makePa = Math.max(
    releasePa,
    (limits.make?.lowPa ?? limits.break?.lowPa ?? criteria.ventedShare * ratedPa) - openPa,
  )
  const longestUs = Math.max(gapUs(streams.pressureIntervalS), criteria.stuckWatchedUs)
  const intervalsUs = (streams.contactIntervalS + streams.pressureIntervalS) * 1e6
  const [earlyUs, lateUs] = [displayS * 1e6 + intervalsUs, lagS * 1e6 + intervalsUs]
  const { tUs: timesUs, pressurePa: pressures } = track.of
  const { length } = track
  const nobodyBefore = { fromUs: Number.NEGATIVE_INFINITY, toUs: timesUs[0] ?? Number.POSITIVE_INFINITY }
  const nobodyAfter = { fromUs: timesUs[length - 1] ?? 0, toUs: Number.POSITIVE_INFINITY }
  const spans: Span[] = [nobodyBefore, nobodyAfter]
  let open: Span | null = null
  for (let i = 0; i < length; i++) {
    const tUs = timesUs[i]!
    const beforeUs = timesUs[i - 1] ?? tUs
    const pressurePa = pressures[i]!
    if (tUs - beforeUs > longestUs) {
      // It may have made in a silence, and then stays made until the pressure falls below the level.
      open = { fromUs: beforeUs - earlyUs, toUs: tUs + lateUs }
      spans.push(open)
    }
    if (pressurePa < releasePa) open = null
    else if (open) open.toUs = tUs + lateUs
    else if (pressurePa >= makePa) {
      open = { fromUs: tUs - earlyUs, toUs: tUs + lateUs }
      spans.push(open)
    }
  }
  return spans
}

/** The made readings outside all of the spans, those with no other reading between them together. */
function spellsOutside({ contact, setup }: Case, spans: readonly Span[]): { tUs: number }[][] {
  const spells: { tUs: number }[][] = []
  let open: { tUs: number }[] | null = null
  const { of, length } = contact
  for (let i = 0; i < length; i++) {
    const actuated = isActuated(stateOf(of.state[i]), setup.rig.pair)
    const tUs = of.tUs[i]!
    const halfUs = of.halfUs[i]!
    if (actuated === null) continue
    if (!actuated || spans.some(({ fromUs, toUs }) => fromUs <= tUs + halfUs && toUs >= tUs - halfUs)) open = null
    else if (open) open.push({ tUs })
    else {
      open = [{ tUs }]
      spells.push(open)
    }
  }
  return spells
}
