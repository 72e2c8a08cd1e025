// A run in progress into what a screen shows: numbers now, the recent trace, trips and the result so far.

import type { Analysis } from '../analyse.ts'
import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { blockedBy } from '../decision/verdict.ts'
import { absentPorts, absentText, lostPorts } from '../guide/absent-ports.ts'
import { bandsOf } from '../guide/bands.ts'
import type { Guide } from '../guide/guidance.ts'
import { type Flow, guideOf, watching } from '../guide/guide.ts'
import { leftOutOf } from '../guide/step.ts'
import type { Run } from '../intake/run.ts'
import { isActuated, type Pair } from '../model/pair.ts'
import { isInRange, stateOf } from '../model/samples.ts'
import { toArray } from '../model/series.ts'
import { stepRow } from '../plan/test-steps.table.ts'
import { rateNow } from '../signal/rate-now.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Live, Phase, TracePoint, TripMark } from './live.ts'

const traceS = 120
const tracePoints = 1200
/** What a screen shows of a run. `standing` is the one of this run, or an older one where a little delay does not matter. */
export function liveOf(run: Run, assessment: Assessment, flow: Flow = watching): Live {
  const sample = run.pressure.at(-1)
  const contact = run.contact.at(-1)
  const pair = run.setup?.rig.pair ?? 'com-no'
  const state = stateOf(contact?.state)
  const guide = run.setup && guideOf(run, run.setup, assessment, flow)
  const phase = phaseOf(run, guide)
  const used = assessment?.result.cycles.filter((c) => c.used).length ?? 0
  // What an instrument showed before it was lost is not so now.
  const absent = absentPorts(run).map(({ name }) => name)
  const [deaf, blind] = [absent.some((name) => name !== 'manometer'), absent.some((name) => name !== 'meter')]
  const pressurePa = sample && isInRange(sample.rawPa) && !blind ? sample.rawPa - run.tracker.zeroPa : null
  return {
    elapsedS: run.tUs / 1e6,
    pressurePa,
    atSwitchPa: atSwitchPa(run, assessment),
    ratePaPerS: blind ? null : rateNow(run.pressure),
    contact: deaf ? 'unknown' : state,
    actuated: deaf ? null : isActuated(state, pair),
    ohm: deaf ? null : (contact?.ohm ?? null),
    phase,
    used,
    wanted: guide ? wantedOf(guide) : criteria.fewestCycles,
    trace: traceOf(run, pair),
    trips: tripMarks(assessment?.analysis ?? null).filter(({ tS }) => tS >= run.tUs / 1e6 - traceS),
    links: [
      ...typedLinks(run),
      ...run.ports.map((p) => ({
        port: p.name,
        state: p.link,
        readingsPerS: readingsPerS(p.recentUs),
        faults: p.faults,
        lastFault: p.lastFault?.text ?? null,
      })),
    ],
    guide,
    bands: run.setup ? bandsOf(run.setup, assessment?.result ?? null) : [],
    recordedBytes: null,
    astray: null,
    signature: null,
    next: nextStep(phase, guide),
    alarm: alarmOf(run, pressurePa, guide),
    result: assessment?.result ?? null,
    settlings: assessment?.settlings ?? [],
    leftOut: leftOutOf(toArray(run.marks)),
    lost: lostPorts(run),
    end: run.end?.reason ?? null,
    blocked: run.setup && assessment && blockedBy(run.setup, assessment.result.limits),
  }
}

/** What the second manometer shows, its rest subtracted: the first of the session, or its first reading so far. */
function atSwitchPa({ atSwitch, ports, tUs, end }: Run, assessment: Assessment): number | null {
  const newest = atSwitch.at(-1)
  const link = ports.find(({ name }) => name === 'manometer-2')?.link
  if (!newest || !isInRange(newest.rawPa) || (end === null && link === 'lost')) return null
  if (end === null && tUs - newest.tUs > criteria.silentUs) return null
  const zeroPa = assessment?.analysis.switchEnd?.zero.before?.meanPa ?? atSwitch.at(0)!.rawPa
  return newest.rawPa - zeroPa
}

/** Strokes that are to count: of the steps whose strokes do, but for those that were skipped. */
function wantedOf({ steps }: Guide): number {
  const counting = steps.filter(({ name, state }) => stepRow(name).counts && state !== 'skipped')
  return counting.reduce((sum, { progress }) => sum + (progress?.wanted ?? 0), 0)
}

/** The instruments that have no port: what they show is typed. */
function typedLinks({ setup }: Run): Live['links'][number][] {
  const { pressure = null, contact = null } = setup?.rig.typed ?? {}
  const link = { state: 'typed', readingsPerS: null, faults: 0, lastFault: null } as const
  return [
    ...(pressure ? [{ port: 'manometer', ...link } as const] : []),
    ...(contact ? [{ port: 'meter', ...link } as const] : []),
  ]
}

function readingsPerS(recentUs: readonly number[]): number | null {
  const [first, newest] = [recentUs[0], recentUs.at(-1)]
  if (first === undefined || newest === undefined || newest <= first) return null
  return ((recentUs.length - 1) * 1e6) / (newest - first)
}

function traceOf(run: Run, pair: Pair): TracePoint[] {
  const { of, length } = run.pressure
  const fromUs = run.tUs - traceS * 1e6
  const first = indexAt(run.pressure, fromUs)
  const stride = Math.max(1, Math.ceil((length - first) / tracePoints))
  const points: TracePoint[] = []
  const { contact } = run
  let c = indexAt(contact, run.pressure.at(first)?.tUs ?? 0)
  // The same readings are taken as the window moves on, or the picture would shimmer.
  for (let i = Math.ceil(first / stride) * stride; i < length; i += stride) {
    const [tUs, rawPa] = [of.tUs[i]!, of.rawPa[i]!]
    while (c < contact.length && contact.of.tUs[c]! <= tUs) c++
    if (!isInRange(rawPa)) continue
    points.push({
      tS: tUs / 1e6,
      pressurePa: rawPa - run.tracker.zeroPa,
      actuated: isActuated(stateOf(contact.of.state[c - 1]), pair),
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

function phaseOf(run: Run, guide: Guide | null): Phase {
  if (run.end) return 'ended'
  if (run.pressure.length === 0 && !run.setup?.rig.typed.pressure) return 'waiting'
  if (guide === null) return run.tracker.count === 0 ? 'first-stroke' : 'cycles'
  if (guide.step === 'cautions') return 'zero'
  return guide.step === 'verdict' ? 'closing-zero' : guide.step
}

function nextStep(phase: Phase, guide: Guide | null): string {
  if (phase === 'waiting') return 'Waiting for the instruments. Switch them on and check their leads.'
  if (phase === 'ended') return 'The test has ended.'
  return guide?.sentence ?? 'Measuring without a verdict. q ends it.'
}

/** What needs the hand at once; null when all is well. */
function alarmOf(run: Run, pressurePa: number | null, guide: Guide | null): string | null {
  if (run.end) return null
  const rating = run.setup?.rating
  const newest = run.pressure.at(-1)
  if (newest && !isInRange(newest.rawPa)) return 'The manometer is over its range: stop and vent.'
  if (rating && pressurePa !== null) {
    if (rating.proofPa !== null && pressurePa > criteria.proofShare * rating.proofPa)
      return 'More than half of the proof pressure: stop and vent now.'
    if (pressurePa > criteria.twiceRated * rating.ratedPa)
      return 'More than twice the rated point: stop, let down slowly.'
    // The guide says more of it: the lead, port or sign to mend.
    if (pressurePa < -criteria.alarmWrongWayShare * rating.ratedPa && !guide?.trouble)
      return 'The pressure goes the wrong way: check the port and the sign of the manometer.'
  }
  // The guide says it in its own words.
  const absent = guide ? [] : absentPorts(run)
  return absent.length > 0 ? absentText(absent, run, 'the measuring') : null
}
