// One simulated part through every estimator of the benchmark: makebreak (told the lag, and not), the naive script, the midpoint.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { analyse } from '../../src/core/analyse.ts'
import { initialRun, type Run, step } from '../../src/core/intake/run.ts'
import { findStrokes } from '../../src/core/intake/stroke-tracker.ts'
import { judge } from '../../src/core/judge.ts'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import type { Result } from '../../src/core/model/result.ts'
import { zeroedTrack } from '../../src/core/signal/pressure-track.ts'
import { findCycles } from '../../src/core/strokes/cycles.ts'
import { findEdges } from '../../src/core/strokes/edges.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { rawRows } from '../harness/pressure-rows.ts'

const findDecode = bindDrivers(await loadDrivers())

/** The state at the end of a simulated session, as if its recording were sealed. */
export function runOf(scenario: Scenario, seed: number): Run {
  let run = initialRun(findDecode)
  for (const event of runVirtually(scenario, seed).events) run = step(run, event as RecordedEvent)
  return { ...run, damage: { ...run.damage, seal: 'intact' } }
}

/** The same session with another lag in its rig: only the analysis is told. */
export function withLag(run: Run, lag: { valueS: number; uS: number; n: number } | null): Run {
  if (!run.setup) throw new Error('a run that has not begun')
  return { ...run, setup: { ...run.setup, rig: { ...run.setup.rig, lag } } }
}

export function resultOfRun(run: Run): Result {
  if (!run.setup) throw new Error('a run that has not begun')
  return judge(analyse(run, run.setup))
}

export type Simple = { makePa: number; breakPa: number }

/** What anyone's first script gives: the last pressure shown when the contact is first seen changed, and the mean of the last two shown. */
export function naive(run: Run): { script: Simple; midpoint: Simple } {
  if (!run.setup) throw new Error('a run that has not begun')
  const { rating, rig } = run.setup
  const raw = rawRows(run.pressure.slice())
  const track = zeroedTrack(raw, { before: null, after: null, noisePa: rig.digitPa }, rig.digitPa)
  const found = findStrokes(track, rating.ratedPa)
  const cycles = findCycles(found, findEdges(run.contact, rig.pair), run.marks.items)
  const script = { make: [] as number[], break: [] as number[] }
  const midpoint = { make: [] as number[], break: [] as number[] }
  const shownAt = (tUs: number) => track.of.pressurePa[track.of.tUs.findLastIndex((at) => at <= tUs)] ?? Number.NaN
  for (const cycle of cycles.slice(1))
    for (const name of ['make', 'break'] as const) {
      const edge = cycle[name]
      if (!edge) continue
      script[name].push(shownAt(edge.hiUs))
      midpoint[name].push((shownAt(edge.loUs) + shownAt(edge.hiUs)) / 2)
    }
  const mean = (xs: number[]) => xs.reduce((a, b) => a + b, 0) / xs.length
  return {
    script: { makePa: mean(script.make), breakPa: mean(script.break) },
    midpoint: { makePa: mean(midpoint.make), breakPa: mean(midpoint.break) },
  }
}

/** What the same likelihood gives when it is told the true lag exactly: no estimator that has to find it can be expected to do better. */
export function boundOf(run: Run, lagS: number): Simple {
  const { make, break: back } = resultOfRun(withLag(run, { valueS: lagS, uS: 1e-4, n: 1000 }))
  return { makePa: make.valuePa ?? Number.NaN, breakPa: back.valuePa ?? Number.NaN }
}
