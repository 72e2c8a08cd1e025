// Raw pressures and contact readings into the bracket in which each trip must lie: a second look that shares nothing with the fit.
//
// It knows no lag, no placed times and no fitted zero, so that it can be checked with a ruler on the raw curve. It holds for a
// tight line and a ramp that goes one way; elsewhere it says nothing, and saying nothing is no consent.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import { isActuated, type Pair } from '../model/pair.ts'
import { isInRange, stateOf } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { median, medianOfOwn } from '../statistics/mean.ts'
import { medianIntervalUs } from '../statistics/median-interval.ts'
import { type RawPressures, type RawReading, type RawStroke, rawRests, rawStrokes } from './raw-strokes.ts'

export type Span = { lowPa: number; highPa: number }

/** What the raw readings of a stroke allow, zero taken off; null where they tell nothing of that trip. */
export type ReadStroke = { peakUs: number; peakPa: number; make: Span | null; break: Span | null }

export type RawContact = Columns<'tUs' | 'state'>
export type RawReadings = { pressure: RawPressures; contact: RawContact }

type Change = { loUs: number; hiUs: number; to: boolean }
type Bench = {
  readings: RawPressures
  zero: Span
  widenPa: number
  turnPa: number
  digitPa: number
  pressureUs: number
}

/** The strokes, each with the brackets of its first make and its break. */
export function readAgain(
  { pressure, contact }: RawReadings,
  { ratedPa, digitPa, pair }: { ratedPa: number; digitPa: number; pair: Pair },
): ReadStroke[] {
  const readings = pressure.where((i) => isInRange(pressure.of.rawPa[i]!))
  const strokes = rawStrokes(readings, ratedPa)
  const rests = rawRests(readings, strokes)
  if (rests.length === 0) return []
  const levelsPa = rests.map((rest) => median(rest)!)
  const zero = { lowPa: Math.min(...levelsPa), highPa: Math.max(...levelsPa) }
  const noisePa = (medianOff(rests, levelsPa) ?? 0) * sdOfMedian
  const { reversalShare, reversalNoises, reversalDigits, bracketNoises } = criteria
  const turnPa = Math.max(reversalShare * ratedPa, reversalNoises * noisePa, reversalDigits * digitPa)
  const bench = {
    readings,
    zero,
    widenPa: digitPa + bracketNoises * noisePa,
    turnPa,
    digitPa,
    pressureUs: medianIntervalUs(readings) ?? 0,
  }
  const changes = changesOf(contact, pair)
  const contactUs = medianIntervalUs(contact) ?? 0
  return strokes.map((stroke) => {
    const own = changes.filter((c) => c.hiUs > stroke.startUs && c.hiUs <= stroke.nextUs)
    // Up and back, once each: where the contact did more, which change is the trip is open.
    const plain = own[0]?.to === true && own.length <= upAndBack
    const bracket = (c: Change | undefined) => (plain && c ? bracketOf(bench, stroke, c, contactUs) : null)
    const peakPa = stroke.peakPa - zero.lowPa + bench.widenPa
    return { peakUs: stroke.peakUs, peakPa, make: bracket(own[0]), break: bracket(own[1]) }
  })
}

/** Median of how far the readings of all rests lie off the level of their own; null for none. */
function medianOff(rests: readonly Float64Array[], levelsPa: readonly number[]): number | null {
  const offPa = new Float64Array(rests.reduce((sum, { length }) => sum + length, 0))
  let count = 0
  for (const [i, rest] of rests.entries()) for (const rawPa of rest) offPa[count++] = Math.abs(rawPa - levelsPa[i]!)
  return medianOfOwn(offPa)
}

/** Standard deviation over median deviation: normal distribution. */
const sdOfMedian = 1.4826
/** Changes of the contact in a plain stroke. */
const upAndBack = 2
/** Readings of which one may be wild. */
const three = 3

/**
 * Pressure at the tee on the rise: no lower than the longest lag before, no higher than what was drawn until the slowest display
 * showed it; on the fall mirrored.
 */
function bracketOf(bench: Bench, stroke: RawStroke, { loUs, hiUs, to }: Change, contactUs: number): Span | null {
  const { readings, zero, widenPa } = bench
  const farUs = loUs - contactUs / 2 - criteria.mostLagS * 1e6
  const nearUs = hiUs + contactUs / 2 + criteria.mostDisplayS * 1e6
  const [beginUs, endUs] = to ? [stroke.startUs, stroke.peakUs] : [stroke.peakUs, stroke.endUs]
  if (farUs > endUs || hiUs - loUs > gapUs(contactUs)) return null
  const fromUs = Math.max(farUs, beginUs)
  // Turned over on the fall, so that both are a rise.
  const sign = to ? 1 : -1
  const seen = readings
    .slice(indexAt(readings, beginUs), indexAt(readings, nearUs) + 1)
    .map(({ tUs, rawPa }) => ({ tUs, rawPa: sign * rawPa }))
  const at = indexAt(seen, fromUs)
  const onRamp = seen.slice(Math.max(0, at - 1)).filter(({ tUs }) => tUs <= endUs)
  // One turn is the kick; a second one is the hand.
  if (onRamp.length === 0 || turnsOf(onRamp, bench.turnPa) > 1 || hasGap(onRamp, bench) || hasFrozen(onRamp, bench))
    return null
  // Where it turns back a slow display has not shown its top: the ramp goes on for as long as that may take.
  const shownPa = (tUs: number) => seen[Math.max(0, indexAt(seen, tUs - criteria.mostDisplayS * 1e6) - 1)]!.rawPa
  const topPa = ({ tUs, rawPa }: RawReading, i: number) =>
    (seen[i + 1]?.rawPa ?? rawPa) < rawPa ? rawPa + rawPa - shownPa(tUs) : rawPa
  const nearPa = sign * seen.reduce((most, s, i) => Math.max(most, topPa(s, i)), Number.NEGATIVE_INFINITY)
  // The middle one of the three readings before it: a wild one counts for nothing.
  const before = median(seen.slice(Math.max(0, at - three), at).map(({ rawPa }) => rawPa))
  const restPa = to ? zero.lowPa : stroke.peakPa
  const farPa = farUs < beginUs || before === null ? restPa : sign * before
  const [lowest, highest] = to ? [farPa, nearPa] : [nearPa, farPa]
  return { lowPa: lowest - zero.highPa - widenPa, highPa: highest - zero.lowPa + widenPa }
}

/** How often the ramp turned back by more than noise and digit. */
function turnsOf(ramp: readonly RawReading[], turnPa: number): number {
  let [turns, up, end] = [0, true, Number.NEGATIVE_INFINITY]
  for (const { rawPa } of ramp) {
    const back = up ? end - rawPa : rawPa - end
    if (back > turnPa) {
      if (up) turns++
      up = !up
      end = rawPa
    } else end = up ? Math.max(end, rawPa) : Math.min(end, rawPa)
  }
  return turns
}

function hasGap(ramp: readonly RawReading[], { pressureUs }: Bench): boolean {
  return ramp.some(({ tUs }, i) => i > 0 && tUs - ramp[i - 1]!.tUs > gapUs(pressureUs))
}

/** Whether the display showed one pressure for long and then leapt. */
function hasFrozen(ramp: readonly RawReading[], { digitPa, pressureUs }: Bench): boolean {
  const longestUs = Math.max(criteria.frozenUs, criteria.frozenIntervals * pressureUs)
  let since = 0
  return ramp.some(({ rawPa }, i) => {
    const leapPa = Math.abs(rawPa - ramp[since]!.rawPa)
    if (leapPa < criteria.frozenDigits * digitPa) return false
    const stillUs = ramp[Math.max(since, i - 1)]!.tUs - ramp[since]!.tUs
    since = i
    return stillUs > longestUs && leapPa > criteria.frozenOwedDigits * digitPa
  })
}

/** Last reading of the old state and first of the new, as they arrived. */
function changesOf({ of, length }: RawContact, pair: Pair): Change[] {
  const changes: Change[] = []
  let beforeUs = 0
  let before: boolean | null = null
  for (let i = 0; i < length; i++) {
    const to = isActuated(stateOf(of.state[i]), pair)
    if (to === null) continue
    const tUs = of.tUs[i]!
    if (before !== null && before !== to) changes.push({ loUs: beforeUs, hiUs: tUs, to })
    beforeUs = tUs
    before = to
  }
  return changes
}

function gapUs(everyUs: number): number {
  return Math.max(criteria.gapIntervals * everyUs, criteria.gapS * 1e6)
}
