// Readings dated by their arrival into readings dated by their instrument: its own beat under lines that came in clumps, the query before a late answer.
import { criteria } from '../criteria.table.ts'
import type { Heard } from '../model/samples.ts'
import { median } from '../statistics/mean.ts'
import { medianIntervalUs } from '../statistics/median-interval.ts'

/** A reading placed in time: it was taken within `halfUs` of `tUs`; absent where nothing delayed it beyond the usual. */
export type Placed<S> = S & { halfUs?: number }

export type Placing<S> = {
  samples: Placed<S>[]
  /** Moments at which several lines came at once, after none for more than two periods. */
  clumps: number
  /** Lines that came in them. */
  clumped: number
}

/** Of each reading the time at which it was taken, and within how much of it, µs. */
type Times = { atUs: Float64Array; halfUs: Float64Array }

/**
 * The readings of one port with the times at which they were taken. A delay that all of them share is part of the lag and
 * stays. `breaksUs`: when its cable was lost or came back; `shownBy` tells an instrument that sends everything twice from
 * one whose lines were held up. A link without clumps keeps the arrivals as they are.
 */
export function placeInTime<S extends Heard>(
  samples: readonly S[],
  breaksUs: readonly number[],
  shownBy: (sample: S) => number,
): Placing<S> {
  const atUs = new Float64Array(samples.length)
  for (let i = 0; i < atUs.length; i++) atUs[i] = samples[i]!.tUs
  const times = { atUs, halfUs: new Float64Array(samples.length) }
  if (isAsked(samples)) {
    placeAnswers(samples, times)
    return { samples: placed(samples, times), clumps: 0, clumped: 0 }
  }
  let [clumps, clumped] = [0, 0]
  let from = 0
  for (const endUs of [...breaksUs, Number.POSITIVE_INFINITY]) {
    let to = from
    while (to < samples.length && samples[to]!.tUs < endUs) to++
    const part = { atUs: atUs.subarray(from, to), halfUs: times.halfUs.subarray(from, to) }
    const found = placeLines(samples.slice(from, to), part, shownBy)
    clumps += found.clumps
    clumped += found.clumped
    from = to
  }
  return { samples: placed(samples, times), clumps, clumped }
}

/** The readings at their times: the very same ones where they were not late. */
function placed<S extends Heard>(samples: readonly S[], times: Times): Placed<S>[] {
  keepOrder(times)
  const { atUs, halfUs } = times
  return samples.map((s, i) => (halfUs[i] === 0 && atUs[i] === s.tUs ? s : { ...s, tUs: atUs[i]!, halfUs: halfUs[i]! }))
}

/** Whether the instrument speaks when it is asked: a query goes before most readings. */
function isAsked(samples: readonly Heard[]): boolean {
  let queries = 0
  let latestUs: number | null = null
  for (const { askedUs } of samples) {
    if (askedUs === null || askedUs === latestUs) continue
    queries++
    latestUs = askedUs
  }
  return queries > samples.length / 2
}

/**
 * A late answer was taken anywhere from its query on: the usual way from query to answer is part of the lag. One that comes
 * too soon after a query answers an older one.
 */
function placeAnswers(samples: readonly Heard[], times: Times): void {
  const answers = samples.filter((s) => s.askedUs !== null)
  const turnsUs = new Float64Array(answers.length)
  for (let i = 0; i < turnsUs.length; i++) turnsUs[i] = answers[i]!.tUs - answers[i]!.askedUs!
  const usualUs = median(turnsUs) ?? 0
  const periodUs = medianIntervalUs(samples) ?? 0
  const slackUs = Math.max(criteria.atOnceUs, criteria.lateShare * Math.min(Math.abs(usualUs), periodUs))
  for (let i = 0; i < samples.length; i++) {
    const { tUs, askedUs, waitingUs } = samples[i]!
    if (askedUs === null) continue
    const lateUs = tUs - askedUs - usualUs
    const queryUs = lateUs < 0 ? waitingUs : askedUs
    if (queryUs !== null && Math.abs(lateUs) > slackUs) within(times, i, Math.min(tUs, queryUs + usualUs), tUs)
  }
}

function within({ atUs, halfUs }: Times, i: number, fromUs: number, toUs: number): void {
  atUs[i] = (fromUs + toUs) / 2
  halfUs[i] = (toUs - fromUs) / 2
}

/** Places the lines of one unbroken connection that came late, in clumps or alone, and counts the clumps. */
function placeLines<S extends Heard>(
  lines: readonly S[],
  times: Times,
  shownBy: (sample: S) => number,
): Omit<Placing<S>, 'samples'> {
  const beat = comeApart(lines) ? null : findBeat(lines)
  if (beat === null) return { clumps: 0, clumped: 0 }
  const { periodUs, lateUs, levelUs } = beat
  const nearUs = criteria.lateShare * periodUs
  const starts = clumpStarts(lines, nearUs)
  const together = lines.map((_, i) => starts[i] !== i || starts[i + 1] === i)
  if (!together.includes(true) || sendsTwice(lines, starts, shownBy)) return { clumps: 0, clumped: 0 }

  const onTime = lines.flatMap((_, i) => (lateUs[i]! <= nearUs ? [i] : []))
  const usualUs = median(onTime.map((i) => lateUs[i]!)) ?? 0
  const keepsBeat = (before: number, after: number) => Math.abs(levelUs[after]! - levelUs[before]!) < nearUs
  const kept = onTime.filter((after, k) => k > 0 && keepsBeat(onTime[k - 1]!, after)).length
  const regular = kept > criteria.beatShare * (onTime.length - 1)
  let next = 0
  for (const [i, { tUs }] of lines.entries()) {
    while (next < onTime.length && onTime[next]! < i) next++
    if (regular && onTime[next] === i) continue
    const [before, after] = [onTime[next - 1], onTime[next]]
    if (regular && before !== undefined && after !== undefined && keepsBeat(before, after)) {
      // No line is missing between two that kept the beat: each has its own place on it.
      const atUs = tUs - lateUs[i]! + usualUs
      within(times, i, atUs - nearUs, Math.min(atUs + nearUs, tUs))
      continue
    }
    const start = starts[i]!
    const alone = start === i && starts[i + 1] !== i
    if (!alone && start > 0) within(times, i, lines[start - 1]!.tUs, tUs)
  }
  const heldUp = (i: number) => {
    const start = starts[i]!
    const gapUs = start > 0 ? lines[start]!.tUs - lines[start - 1]!.tUs : 0
    return together[i] && gapUs > criteria.clumpPeriods * periodUs
  }
  const clumped = starts.filter((_, i) => heldUp(i))
  return { clumps: new Set(clumped).size, clumped: clumped.length }
}

/** For each line the first one of those that came with it: itself where it came alone. */
function clumpStarts(lines: readonly Heard[], nearUs: number): number[] {
  const starts: number[] = []
  for (const [i, { tUs }] of lines.entries())
    starts.push(i > 0 && tUs - lines[i - 1]!.tUs < nearUs ? starts[i - 1]! : i)
  return starts
}

/** Some meters send each value twice: nearly all lines then come in pairs of one value, and nothing was held up. */
function sendsTwice<S extends Heard>(lines: readonly S[], starts: readonly number[], shownBy: (s: S) => number) {
  const pairs = starts.filter((start, i) => start === i - 1 && Object.is(shownBy(lines[start]!), shownBy(lines[i]!)))
  const paired = 2 * pairs.length
  return paired > criteria.twiceShare * lines.length
}

type Beat = {
  periodUs: number
  /** How much later than the beat each line came, µs, and the beat at each line, less its number × the period. */
  lateUs: number[]
  levelUs: number[]
}

/** Lines whose intervals are averaged for the period: clumps of one size come out even. */
const strides = [1, 12, 60, 240] as const
/** The period that most lines keep, and the beat under their arrivals; null for too few lines. */
function findBeat(lines: readonly Heard[]): Beat | null {
  if (lines.length < criteria.beatLines) return null
  let best: Beat | null = null
  let most = 0
  for (const periodUs of periodsUs(lines)) {
    const { kept, beat } = beatUnder(lines, periodUs)
    if (kept > most) [best, most] = [beat, kept]
  }
  return best
}

/** The periods that lines so many apart keep, µs, those above 0. */
function periodsUs(lines: readonly Heard[]): number[] {
  return strides
    .map((stride) => {
      const spans = new Float64Array(Math.max(0, lines.length - stride))
      for (let i = 0; i < spans.length; i++) {
        const [first, last] = [lines[i]!, lines[i + stride]!]
        spans[i] = (last.tUs - first.tUs) / Math.max(1, last.line - first.line)
      }
      return median(spans) ?? 0
    })
    .filter((periodUs) => periodUs > 0)
}

/** Whether no two lines came together, whatever their period: then none was held up, and their beat need not be known. */
function comeApart(lines: readonly Heard[]): boolean {
  const farUs = criteria.lateShare * Math.max(0, ...periodsUs(lines))
  return lines.every(({ tUs }, i) => i === 0 || tUs - lines[i - 1]!.tUs >= farUs)
}

/**
 * The lower envelope of the arrivals from each line on: what was held up comes back to it as soon as the machine has caught
 * up. `kept`: lines that lie on it from both sides, since under too short a period it rises with every line.
 */
function beatUnder(lines: readonly Heard[], periodUs: number): { kept: number; beat: Beat } {
  const offsUs = lines.map((s) => s.tUs - s.line * periodUs)
  const reach = Math.max(criteria.beatLines, Math.ceil((criteria.beatS * 1e6) / periodUs))
  const levelUs = lowestAhead(offsUs, reach)
  const behindUs = lowestAhead(offsUs.toReversed(), reach).reverse()
  const nearUs = criteria.lateShare * periodUs
  const kept = offsUs.filter((off, i) => off - Math.min(levelUs[i]!, behindUs[i]!) <= nearUs).length
  return { kept, beat: { periodUs, levelUs, lateUs: offsUs.map((off, i) => off - levelUs[i]!) } }
}

/** For each value the lowest of it and those behind it, `reach` in all. */
function lowestAhead(values: readonly number[], reach: number): number[] {
  const out = new Array<number>(values.length)
  // Places that may still be the lowest of some stretch: the lowest of all from `first` on, rising values after it.
  const candidates: number[] = []
  let first = 0
  for (let i = values.length - 1; i >= 0; i--) {
    while (candidates.length > first && values[candidates.at(-1)!]! >= values[i]!) candidates.pop()
    candidates.push(i)
    while (candidates[first]! >= i + reach) first++
    out[i] = values[candidates[first]!]!
  }
  return out
}

/** Times of a port never decrease, and no interval reaches back before the one of the reading before it. */
function keepOrder(times: Times): void {
  const { atUs, halfUs } = times
  let [earliestUs, latestUs] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let i = 0; i < atUs.length; i++) {
    if (halfUs[i]! > 0) {
      const toUs = atUs[i]! + halfUs[i]!
      within(times, i, Math.min(toUs, Math.max(earliestUs, atUs[i]! - halfUs[i]!)), toUs)
    }
    earliestUs = Math.max(earliestUs, atUs[i]! - halfUs[i]!)
    if (atUs[i]! < latestUs) {
      // Held together only by widening: its own interval stays covered.
      halfUs[i]! += latestUs - atUs[i]!
      atUs[i] = latestUs
    }
    latestUs = atUs[i]!
  }
}
