// Strokes whose readings are missing where the switch makes or breaks into a finding: what it did there is not known.

import { criteria } from '../../criteria.table.ts'
import { type Timed, timesOf } from '../../model/columns.ts'
import { isActuated } from '../../model/pair.ts'
import { stateOf } from '../../model/samples.ts'
import { toArray } from '../../model/series.ts'
import { gapUs, hasSilence } from '../../signal/silence.ts'
import { indexAt } from '../../statistics/index-at.ts'
import { invertedStrokes } from '../inverted-strokes.ts'
import { isClamped } from '../is-clamped.ts'
import { isWatched } from '../is-watched.ts'
import { mayLieOutside, readSpan } from '../read-span.ts'
import { mustReleasePa } from '../releases.ts'
import { type Case, hasTransition, type Rule, sight } from '../rule.ts'

/**
 * A lost line never makes a verdict better. Where a stream was silent the stroke counts as one that may have gone wrong, but
 * where the readings before and after show that it cannot have.
 */
export const unseenStrokes: Rule = (c) => {
  // Where the pressure was typed nothing of it is seen but the trips: that has findings of its own.
  if (c.typed !== null || !hasTransition(c) || invertedStrokes(c) !== null) return []
  const kinds: [where: string, isUnseen: (i: number) => boolean][] = [
    ['where it must make', (i) => unseenMake(c, i)],
    ['where it must break', (i) => !unseenMake(c, i) && unseenBreak(c, i)],
    ['and after it, long enough for another one', (i) => hidesStroke(c, i)],
  ]
  const unseen = kinds.flatMap(([where, isUnseen]) => {
    const cycles = c.cycles.filter((_, i) => isUnseen(i))
    return cycles.length === 0 ? [] : [{ where, cycles }]
  })
  const all = unseen.flatMap(({ cycles }) => cycles)
  if (all.length === 0) return []
  const where = unseen.map(({ where, cycles }) => `in stroke ${cycles.map(({ stroke }) => stroke).join(', ')} ${where}`)
  return [
    sight(
      'undecided',
      Math.min(...all.map(({ span }) => span.startUs)),
      `Readings are missing ${where.join('; ')}: what the switch did there is not known. See to cables, plugs and batteries, and repeat the test.`,
      { strokes: new Set(all).size, of: c.cycles.length },
    ),
  ]
}

/**
 * No make was seen and a stream is silent since the stroke before; or a make lies in a gap that reaches beyond a limit, or in
 * one that hides where its stroke began.
 */
function unseenMake(c: Case, i: number): boolean {
  const { span, make, edges } = c.cycles[i]!
  const limit = c.setup.rating.limits.make
  if (make === null) return !isClamped(c, c.cycles[i]!) && isSilent(c, c.cycles[i - 1]?.span.endUs ?? 0, span.endUs)
  const seen = readSpan(c, 'make', make)
  if (limit !== null && seen.blind && mayLieOutside(seen, limit)) return true
  return edges.some((edge) => edge.to && edge.loUs > span.endUs && !isWatched(c.track, edge.loUs))
}

/** A made contact of which no reading shows that it let go in time, where a stream is silent; or a break in a gap that reaches beyond a limit. */
function unseenBreak(c: Case, i: number): boolean {
  const { make, break: back } = c.cycles[i]!
  if (make === null) return false
  const limit = c.setup.rating.limits.break
  if (back !== null && limit !== null) {
    const seen = readSpan(c, 'break', back)
    if (seen.blind && mayLieOutside(seen, limit)) return true
  }
  const { contactIntervalS, pressureIntervalS } = c.streams
  const nextUs = Math.min(c.run.tUs, (c.cycles[i + 1]?.span ?? c.openStroke)?.startUs ?? c.run.tUs)
  const openUs = back?.hiUs ?? nextUs
  // From each reading at which it may still be made to the next such one, the last to the first reading that it let go.
  const levelPa = mustReleasePa(c)
  const made = c.track.part(indexAt(c.track, make.hiUs), indexAt(c.track, openUs))
  const aboveUs = timesOf(made.where((row) => made.of.pressurePa[row]! >= levelPa))
  const slowestUs = (criteria.mostLagS + contactIntervalS + pressureIntervalS) * 1e6
  return [...aboveUs, openUs].some((toUs, k) => {
    const fromUs = aboveUs[k - 1] ?? make.hiUs
    return toUs - fromUs > slowestUs && isSilent(c, fromUs, toUs)
  })
}

/** Whether the manometer is silent between this stroke and the next for as long as the shortest stroke took; asleep the machine guides none. */
function hidesStroke({ cycles, openStroke, track, run }: Case, i: number): boolean {
  const shortestUs = Math.min(...cycles.map(({ span }) => span.endUs - span.startUs))
  const fromUs = cycles[i]!.span.endUs
  const toUs = (cycles[i + 1]?.span ?? openStroke)?.startUs ?? run.tUs
  const restUs = timesOf(track.part(indexAt(track, fromUs), indexAt(track, toUs) + 1))
  return restUs.some((tUs, k) => {
    const beforeUs = restUs[k - 1] ?? tUs
    const slept = toArray(run.sleeps).some((sleep) => sleep.fromUs < tUs && sleep.toUs > beforeUs)
    return tUs - beforeUs > shortestUs && !slept
  })
}

/** Whether the manometer, or a contact reading that tells the state, is missing for longer than a gap. */
function isSilent({ track, contact, streams, setup }: Case, fromUs: number, toUs: number): boolean {
  const isMissing = (samples: Timed, intervalS: number) =>
    hasSilence([fromUs, ...timesOf(samples), toUs], gapUs(intervalS))
  const read = contact.part(indexAt(contact, fromUs), indexAt(contact, toUs))
  const telling = read.where((row) => isActuated(stateOf(read.of.state[row]), setup.rig.pair) !== null)
  const pressures = track.part(indexAt(track, fromUs), indexAt(track, toUs))
  return isMissing(pressures, streams.pressureIntervalS) || isMissing(telling, streams.contactIntervalS)
}
