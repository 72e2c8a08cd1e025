// A whole run into the plain numbers of its trip-point curve.

import { type Analysis, analyse } from '../analyse.ts'
import type { Run } from '../intake/run.ts'
import { judge } from '../judge.ts'
import type { StartEvent } from '../model/event.ts'
import { isActuated } from '../model/pair.ts'
import type { Result } from '../model/result.ts'
import { stateOf } from '../model/samples.ts'
import { typedDriver } from '../model/typed.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import type { Curve } from './curve.ts'
import { tripMarks } from './live-view.ts'

/** The curve of a run; null before its `start`. Contact readings carry the pressure at their time with the lag taken off. */
export function curveOf(run: Run): Curve | null {
  if (run.setup === null) return null
  const analysis = analyse(run, run.setup)
  return curveFrom(analysis, judge(analysis))
}

/** The same of a run that is analysed and judged already. */
export function curveFrom(analysis: Analysis, result: Result): Curve {
  const counted = new Set(result.cycles.filter((c) => c.used).map((c) => c.stroke))
  const { start, rating, rig } = analysis.setup
  const { at, simulated } = start
  const first = analysis.track.at(0)
  const lagUs = analysis.lag.valueS * 1e6
  return {
    title: titleOf(start),
    verdict: result.verdict,
    at,
    rig: start.rig.name ?? '',
    simulated,
    unit: rating.unit,
    pressure: analysis.track.slice().map((s) => ({ tS: s.tUs / 1e6, pressurePa: s.pressurePa })),
    contact: analysis.contact.slice().map((s) => ({
      tS: s.tUs / 1e6,
      pressurePa: first && s.tUs - lagUs >= first.tUs ? pressureAt(analysis.track, s.tUs - lagUs) : null,
      actuated: isActuated(stateOf(s.state), rig.pair),
      ohm: s.ohm,
    })),
    trips: tripMarks(analysis).map((trip) => ({ ...trip, counted: counted.has(trip.stroke) })),
    estimates: { make: result.make, break: result.break },
    limits: { make: rating.limits.make, break: rating.limits.break },
  }
}

/** Part, serial number, customer and order, as far as they are stated. */
function titleOf({ id, part, rig, job }: StartEvent): string {
  const typed = rig.manometer?.driver === typedDriver ? 'pressures typed, none recorded' : null
  const pieces = [part.model, part.serial, job?.customer, job?.order && `order ${job.order}`, typed]
  return pieces.filter(Boolean).join(' · ') || id
}
