// Readings dated by their arrival into readings dated by their instrument: its own clock, its beat under lines that came in clumps, the query before a late answer.
import { criteria } from '../criteria.table.ts'
import type { HeardRows } from '../model/samples.ts'
import { lowestAhead } from '../statistics/lowest-ahead.ts'
import { median } from '../statistics/mean.ts'
import { medianIntervalUs } from '../statistics/median-interval.ts'
import { clockTimes } from './clock-times.ts'

/** Of each reading the time at which it was taken, and within how much of it, µs; 0 where nothing delayed it. */
type Times = { tUs: Float64Array; halfUs: Float64Array }

export type Placing = Times & {
  /** Moments at which several lines came at once, after none for more than two periods. */
  clumps: number
  /** Lines that came in them. */
  clumped: number
}

/**
 * The times at which the readings of one port were taken. A delay that all of them share is part of the lag and
 * stays. `breaksUs`: when its cable was lost or came back; `shown` tells an instrument that sends everything twice from
 * one whose lines were held up. A link without clumps keeps the arrivals as they are. Lines that each state their time are
 * placed by the instrument's own clock, clumps or not.
 */
export function placeInTime(heard: HeardRows, breaksUs: readonly number[], shown: (place: number) => number): Placing {
  const { length, of } = heard
  const times = { tUs: of.tUs.slice(0, length), halfUs: new Float64Array(length) }
  let [clumps, clumped] = [0, 0]
  const dated = hasClock(heard)
  if (!dated && isAsked(heard)) placeAnswers(heard, times)
  else {
    let from = 0
    for (const endUs of [...breaksUs, Number.POSITIVE_INFINITY]) {
      const first = from
      while (from < length && of.tUs[from]! < endUs) from++
      const part = { tUs: times.tUs.subarray(first, from), halfUs: times.halfUs.subarray(first, from) }
      const lines = heard.part(first, from).of
      if (dated) {
        const own = clockTimes(lines.tUs, lines.deviceUs)
        part.tUs.set(own.tUs)
        part.halfUs.set(own.halfUs)
        continue
      }
      const found = placeLines(lines, part, (i) => shown(first + i))
      clumps += found.clumps
      clumped += found.clumped
    }
  }
  keepOrder(times)
  return { ...times, clumps, clumped }
}

/** Whether each reading says when its instrument took it. */
function hasClock({ of, length }: HeardRows): boolean {
  for (let i = 0; i < length; i++) if (Number.isNaN(of.deviceUs[i]!)) return false
  return true
}

/** Whether the instrument speaks when it is asked: a query goes before most readings. */
function isAsked({ of, length }: HeardRows): boolean {
  let queries = 0
  let latestUs: number | null = null
  for (let i = 0; i < length; i++) {
    const askedUs = of.askedUs[i]!
    if (Number.isNaN(askedUs) || askedUs === latestUs) continue
    queries++
    latestUs = askedUs
  }
  return queries > length / 2
}

/**
 * A late answer was taken anywhere from its query on: the usual way from query to answer is part of the lag. One that comes
 * too soon after a query answers an older one.
 */
function placeAnswers(heard: HeardRows, times: Times): void {
  const { of, length } = heard
  // A reading before the first query answers none.
  const turnsUs = of.tUs.subarray(0, length).map((tUs, i) => tUs - of.askedUs[i]!)
  const usualUs = median(turnsUs.filter((turnUs) => !Number.isNaN(turnUs))) ?? 0
  const periodUs = medianIntervalUs(heard) ?? 0
  const slackUs = Math.max(criteria.atOnceUs, criteria.lateShare * Math.min(Math.abs(usualUs), periodUs))
  for (let i = 0; i < length; i++) {
    const [tUs, askedUs] = [of.tUs[i]!, of.askedUs[i]!]
    if (Number.isNaN(askedUs)) continue
    const lateUs = tUs - askedUs - usualUs
    const queryUs = lateUs < 0 ? of.waitingUs[i]! : askedUs
    if (!Number.isNaN(queryUs) && Math.abs(lateUs) > slackUs) within(times, i, Math.min(tUs, queryUs + usualUs), tUs)
  }
}

function within({ tUs, halfUs }: Times, i: number, fromUs: number, toUs: number): void {
  tUs[i] = (fromUs + toUs) / 2
  halfUs[i] = (toUs - fromUs) / 2
}

/** Arrivals, µs, and lines counted at their port. */
type Lines = Readonly<Record<'tUs' | 'line', Float64Array>>

/** Places the lines of one unbroken connection that came late, in clumps or alone, and counts the clumps. */
function placeLines(lines: Lines, times: Times, shown: (place: number) => number): Pick<Placing, 'clumps' | 'clumped'> {
  const { tUs } = lines
  const beat = comeApart(lines) ? null : findBeat(lines)
  if (beat === null) return { clumps: 0, clumped: 0 }
  const { periodUs, lateUs, levelUs } = beat
  const nearUs = criteria.lateShare * periodUs
  const starts = clumpStarts(tUs, nearUs)
  const together = starts.map((start, i) => start !== i || starts[i + 1] === i)
  if (!together.includes(true) || sendsTwice(starts, shown)) return { clumps: 0, clumped: 0 }

  const onTime = starts.flatMap((_, i) => (lateUs[i]! <= nearUs ? [i] : []))
  const usualUs = median(onTime.map((i) => lateUs[i]!)) ?? 0
  const keepsBeat = (before: number, after: number) => Math.abs(levelUs[after]! - levelUs[before]!) < nearUs
  const kept = onTime.filter((after, k) => k > 0 && keepsBeat(onTime[k - 1]!, after)).length
  const regular = kept > criteria.beatShare * (onTime.length - 1)
  let next = 0
  for (const [i, cameUs] of tUs.entries()) {
    while (next < onTime.length && onTime[next]! < i) next++
    if (regular && onTime[next] === i) continue
    const [before, after] = [onTime[next - 1], onTime[next]]
    if (regular && before !== undefined && after !== undefined && keepsBeat(before, after)) {
      // No line is missing between two that kept the beat: each has its own place on it.
      const atUs = cameUs - lateUs[i]! + usualUs
      within(times, i, atUs - nearUs, Math.min(atUs + nearUs, cameUs))
      continue
    }
    const start = starts[i]!
    const alone = start === i && starts[i + 1] !== i
    if (!alone && start > 0) within(times, i, tUs[start - 1]!, cameUs)
  }
  const heldUp = (i: number) => {
    const start = starts[i]!
    const gapUs = start > 0 ? tUs[start]! - tUs[start - 1]! : 0
    return together[i] && gapUs > criteria.clumpPeriods * periodUs
  }
  const clumped = starts.filter((_, i) => heldUp(i))
  return { clumps: new Set(clumped).size, clumped: clumped.length }
}

/** For each line the first one of those that came with it: itself where it came alone. */
function clumpStarts(tUs: Float64Array, nearUs: number): number[] {
  const starts: number[] = []
  for (let i = 0; i < tUs.length; i++) starts.push(i > 0 && tUs[i]! - tUs[i - 1]! < nearUs ? starts[i - 1]! : i)
  return starts
}

/** Some meters send each value twice: nearly all lines then come in pairs of one value, and nothing was held up. */
function sendsTwice(starts: readonly number[], shown: (place: number) => number): boolean {
  const pairs = starts.filter((start, i) => start === i - 1 && Object.is(shown(start), shown(i)))
  const paired = 2 * pairs.length
  return paired > criteria.twiceShare * starts.length
}

type Beat = {
  periodUs: number
  /** How much later than the beat each line came, µs, and the beat at each line, less its number × the period. */
  lateUs: Float64Array
  levelUs: Float64Array
}

/** Lines whose intervals are averaged for the period: clumps of one size come out even. */
const strides = [1, 12, 60, 240] as const
/** The period that most lines keep, and the beat under their arrivals; null for too few lines. */
function findBeat(lines: Lines): Beat | null {
  if (lines.tUs.length < criteria.beatLines) return null
  let best: Beat | null = null
  let most = 0
  for (const periodUs of periodsUs(lines)) {
    const { kept, beat } = beatUnder(lines, periodUs)
    if (kept > most) [best, most] = [beat, kept]
  }
  return best
}

/** The periods that lines so many apart keep, µs, those above 0. */
function periodsUs({ tUs, line }: Lines): number[] {
  return strides
    .map((stride) => {
      const spans = new Float64Array(Math.max(0, tUs.length - stride))
      for (let i = 0; i < spans.length; i++)
        spans[i] = (tUs[i + stride]! - tUs[i]!) / Math.max(1, line[i + stride]! - line[i]!)
      return median(spans) ?? 0
    })
    .filter((periodUs) => periodUs > 0)
}

/** Whether no two lines came together, whatever their period: then none was held up, and their beat need not be known. */
function comeApart(lines: Lines): boolean {
  const { tUs, line } = lines
  let [nearestUs, longestUs] = [Number.POSITIVE_INFINITY, 0]
  for (let i = 1; i < tUs.length; i++) {
    const stepUs = tUs[i]! - tUs[i - 1]!
    nearestUs = Math.min(nearestUs, stepUs)
    longestUs = Math.max(longestUs, stepUs / Math.max(1, line[i]! - line[i - 1]!))
  }
  // No period is longer than the longest step, so nearly all links are told without one.
  if (nearestUs >= criteria.lateShare * longestUs) return true
  return nearestUs >= criteria.lateShare * Math.max(0, ...periodsUs(lines))
}

/**
 * The lower envelope of the arrivals from each line on: what was held up comes back to it as soon as the machine has caught
 * up. `kept`: lines that lie on it from both sides, since under too short a period it rises with every line.
 */
function beatUnder({ tUs, line }: Lines, periodUs: number): { kept: number; beat: Beat } {
  const offsUs = tUs.map((cameUs, i) => cameUs - line[i]! * periodUs)
  const reach = Math.max(criteria.beatLines, Math.ceil((criteria.beatS * 1e6) / periodUs))
  const levelUs = lowestAhead(offsUs, reach)
  const behindUs = lowestAhead(offsUs.toReversed(), reach).reverse()
  const nearUs = criteria.lateShare * periodUs
  const kept = offsUs.filter((off, i) => off - Math.min(levelUs[i]!, behindUs[i]!) <= nearUs).length
  return { kept, beat: { periodUs, levelUs, lateUs: offsUs.map((off, i) => off - levelUs[i]!) } }
}

/** Times of a port never decrease, and no interval reaches back before the one of the reading before it. */
function keepOrder(times: Times): void {
  const { tUs, halfUs } = times
  let [earliestUs, latestUs] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let i = 0; i < tUs.length; i++) {
    if (halfUs[i]! > 0) {
      const toUs = tUs[i]! + halfUs[i]!
      within(times, i, Math.min(toUs, Math.max(earliestUs, tUs[i]! - halfUs[i]!)), toUs)
    }
    earliestUs = Math.max(earliestUs, tUs[i]! - halfUs[i]!)
    if (tUs[i]! < latestUs) {
      // Held together only by widening: its own interval stays covered.
      halfUs[i]! += latestUs - tUs[i]!
      tUs[i] = latestUs
    }
    latestUs = tUs[i]!
  }
}
