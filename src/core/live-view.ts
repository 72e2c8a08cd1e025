// A run in progress into what a screen shows: numbers now, the recent trace, trips and the result so far.
import { type Analysis, analyse } from './analyse.ts'
import { fewestCycles } from './decision/verdict.ts'
import type { StrokeTracker } from './detection/stroke-tracker.ts'
import { judge } from './judge.ts'
import type { Live, Phase, TracePoint, TripMark } from './live.ts'
import type { Result } from './result.ts'
import type { Run, Setup } from './run.ts'
import { last } from './series.ts'
import { isActuated } from './signal/contact-state.ts'
import { indexAt } from './signal/index-at.ts'
import { fitLine } from './statistics/line.ts'

const traceS = 120
const tracePoints = 1200
/** Readings of the last second make the rate that is shown, at least 4. */
const rateWindowUs = 1e6

/** The analysis that a screen keeps between strokes; taken anew when a stroke ends or the run does. */
export type Standing = { key: string; analysis: Analysis; result: Result } | null

function standingKey(run: Run): string {
  const { damage } = run
  return [
    run.tracker.count,
    run.marks.length,
    run.end !== null,
    damage.seal,
    damage.torn,
    damage.corruptLines.length,
  ].join()
}

/** The standing of a run: the one given where nothing that matters has happened since, else a new analysis. Null before `start`. */
export function standingOf(run: Run, before: Standing): Standing {
  if (run.setup === null) return null
  const key = standingKey(run)
  if (before?.key === key) return before
  const analysis = analyse(run, run.setup)
  return { key, analysis, result: judge(analysis) }
}

/** What a screen shows of a run. `standing` is the one of this run, or an older one where a little delay does not matter. */
export function liveOf(run: Run, standing: Standing): Live {
  const sample = last(run.pressure)
  const contact = last(run.contact)
  const pair = run.setup?.bench.pair ?? 'com-no'
  const state = contact?.state ?? 'unknown'
  const phase = phaseOf(run)
  const used = standing?.result.cycles.filter((c) => c.used).length ?? 0
  const pressurePa = sample && !sample.overRange ? sample.rawPa - run.tracker.zeroPa : null
  return {
    elapsedS: run.tUs / 1e6,
    pressurePa,
    ratePaPerS: rateNow(run),
    contact: state,
    actuated: isActuated(state, pair),
    ohm: contact?.ohm ?? null,
    phase,
    used,
    wanted: fewestCycles,
    trace: traceOf(run, pair),
    trips: tripMarks(standing?.analysis ?? null),
    links: run.ports.map((p) => ({
      port: p.name,
      state: p.link,
      readingsPerS: readingsPerS(p.recentUs),
      faults: p.faults,
      lastFault: p.lastFault?.text ?? null,
    })),
    next: nextStep(run, phase, used, standing?.result ?? null),
    alarm: alarmOf(run, pressurePa),
    result: standing?.result ?? null,
  }
}

function rateNow(run: Run): number | null {
  const { items, length } = run.pressure
  const newest = last(run.pressure)
  if (!newest) return null
  const from = Math.max(0, length - 200)
  const window = items.slice(from, length).filter((s) => s.tUs >= newest.tUs - rateWindowUs)
  const samples = window.length >= 4 ? window : items.slice(Math.max(0, length - 4), length)
  if (samples.length < 3 || samples.some((s) => s.overRange)) return null
  const line = fitLine(
    samples.map((s) => (s.tUs - newest.tUs) / 1e6),
    samples.map((s) => s.rawPa),
  )
  return line?.slope ?? null
}

function readingsPerS(recentUs: readonly number[]): number | null {
  const [first, newest] = [recentUs[0], recentUs.at(-1)]
  if (first === undefined || newest === undefined || newest <= first) return null
  return ((recentUs.length - 1) * 1e6) / (newest - first)
}

function traceOf(run: Run, pair: Setup['bench']['pair']): TracePoint[] {
  const { items, length } = run.pressure
  const fromUs = run.tUs - traceS * 1e6
  const first = Math.max(indexAt(items, fromUs), 0)
  const stride = Math.max(1, Math.ceil((length - first) / tracePoints))
  const points: TracePoint[] = []
  let c = 0
  for (let i = first; i < length; i += stride) {
    const sample = items[i]!
    while (c < run.contact.length && run.contact.items[c]!.tUs <= sample.tUs) c++
    if (sample.overRange) continue
    const state = run.contact.items[c - 1]?.state ?? 'unknown'
    points.push({
      tS: sample.tUs / 1e6,
      pressurePa: sample.rawPa - run.tracker.zeroPa,
      actuated: isActuated(state, pair),
    })
  }
  return points
}

/** The located trips of an analysis, at their contact's time. */
export function tripMarks(analysis: Analysis | null): TripMark[] {
  if (!analysis) return []
  return analysis.cycles.flatMap((cycle) =>
    [cycle.makeTrip, cycle.breakTrip].flatMap((trip): TripMark[] => {
      if (!trip) return []
      const value = trip.transition === 'make' ? cycle.makeValue : cycle.breakValue
      const tS = (trip.loS + trip.hiS) / 2
      return [{ tS, stroke: cycle.stroke, transition: trip.transition, pressurePa: value?.valuePa ?? null }]
    }),
  )
}

function phaseOf(run: Run): Phase {
  if (run.end) return 'ended'
  if (run.pressure.length === 0) return 'waiting'
  const mark = run.marks.items.slice(0, run.marks.length).findLast((m) => m.mark !== 'note' && m.mark !== 'caution')
  const { tracker } = run
  if (tracker.count === 0)
    return tracker.current ? 'first-stroke' : mark?.mark === 'first-stroke' ? 'first-stroke' : 'zero'
  if (mark?.mark === 'zero') return 'closing-zero'
  return mark?.mark === 'precondition' ? 'precondition' : 'cycles'
}

function nextStep(run: Run, phase: Phase, used: number, result: Result | null): string {
  if (phase === 'waiting') return 'Waiting for the instruments. Switch them on and check their leads.'
  if (phase === 'ended') return 'The test has ended.'
  if (phase === 'zero') return 'Leave both ports open until the zero is taken, then draw slowly for the first stroke.'
  if (phase === 'closing-zero') return 'Leave both ports open for ten seconds, then end the test.'
  if (run.tracker.current) return strokeStep(run.tracker, run)
  if (phase === 'precondition') return 'Draw the next preconditioning stroke to the same peak.'
  if (result && used >= fewestCycles) return 'Enough cycles. Vent, take the closing zero, then end the test.'
  const missing = Math.max(0, fewestCycles - used)
  return `Vent for a moment, then draw the next stroke slowly: ${missing} more ${missing === 1 ? 'cycle counts' : 'cycles count'} until a verdict.`
}

/** What the hand does within a stroke: up to a quarter past the rating, then down past the break, then vent. */
function strokeStep(tracker: StrokeTracker, run: Run): string {
  const rating = run.setup?.rating
  const stroke = tracker.current
  if (!rating || !stroke) return 'Draw slowly.'
  const made = isActuated(last(run.contact)?.state ?? 'unknown', run.setup?.bench.pair ?? 'com-no')
  if (stroke.peakPa >= 2 * rating.ratedPa) return 'Stop: twice the rated point is reached. Let down slowly.'
  if (stroke.peakPa >= 1.25 * rating.ratedPa)
    return made
      ? 'High enough: let down slowly past the break.'
      : 'Draw on slowly; no trip yet. Stop at twice the rated point.'
  return made
    ? 'It has made: draw on a little to 1.25 × the rated point, then let down slowly.'
    : 'Draw slowly and steadily towards the trip.'
}

/** What needs the hand at once; null when all is well. */
function alarmOf(run: Run, pressurePa: number | null): string | null {
  if (run.end) return null
  const rating = run.setup?.rating
  const newest = last(run.pressure)
  if (newest?.overRange) return 'The manometer is over its range: stop and vent.'
  if (rating && pressurePa !== null) {
    if (rating.proofPa !== null && pressurePa > rating.proofPa / 2)
      return 'More than half of the proof pressure: stop and vent now.'
    if (pressurePa > 2 * rating.ratedPa) return 'More than twice the rated point: stop, let down slowly.'
    if (pressurePa < -0.5 * rating.ratedPa)
      return 'The pressure goes the wrong way: check the port and the sign of the manometer.'
  }
  const lost = run.ports.find((p) => p.link === 'lost')
  if (lost) return `The ${lost.name} is lost: check its cable. The test goes on when it is back.`
  const silent = run.ports.find((p) => {
    const at = p.recentUs.at(-1)
    return at !== undefined && run.tUs - at > 3e6
  })
  return silent ? `The ${silent.name} has been silent for over 3 s: check it.` : null
}
