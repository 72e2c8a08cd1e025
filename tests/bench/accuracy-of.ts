// Many simulated parts of one scenario into its row of the accuracy table: errors, honesty of the intervals, and the bars it misses.

import type { Estimate } from '../../src/core/model/result.ts'
import { normalQuantile } from '../../src/core/statistics/normal.ts'
import { truthOf } from '../../src/simulation/scenario.ts'
import { createRandom } from '../harness/foreign-recording.ts'
import { type AccuracyScenario, gaugeU, partOf } from './accuracy-scenarios.ts'
import { boundOf, naive, resultOfRun, runOf, withLag } from './measure-part.ts'

export type AccuracyRow = {
  name: string
  parts: number
  /**
   * RMS errors of make and break pooled, Pa. The gauge's own error is taken out of these: no estimator can see it.
   * `bound` is for the table only, NaN where it was left out.
   */
  rmsPa: { script: number; midpoint: number; told: number; untold: number; bound: number }
  /** Share of parts whose stated 95 % interval, U and allowance, holds the truth; here the gauge errs as its specification says. */
  coverage: { make: number; break: number; differential: number }
  /** The same of U alone, without what lag and leak leave open beside it. */
  coverageOfU: { make: number; break: number; differential: number }
  /** Mean U over 1.96 × RMS error. */
  width: { make: number; break: number; differential: number }
  usedCycles: number
}

const uToldS = 0.02

/** Runs `parts` parts of a scenario; the seeds are fixed, so the row is always the same. */
export function accuracyOf({ bench }: AccuracyScenario, parts: number, { withBound = true } = {}): AccuracyRow {
  const errors = {
    script: [] as number[],
    midpoint: [] as number[],
    told: [] as number[],
    untold: [] as number[],
    bound: [] as number[],
  }
  const stated = { make: [] as Stated[], break: [] as Stated[], differential: [] as Stated[] }
  const gaugeErrors = spreadNormal(parts)
  let used = 0
  for (let seed = 1; seed <= parts; seed++) {
    const random = createRandom(seed * 7919 + 17)
    for (let i = 0; i < 10; i++) random.uniform()
    // What the specification leaves after zeroing grows with the pressure: it moves make and break together, and the differential by
    // its share of the make. No estimator sees it.
    const gaugeErrorPa = gaugeU * gaugeErrors[seed - 1]!
    const scenario = partOf(bench, random.uniform() - 0.5)
    const truth = truthOf(scenario)
    const run = runOf(scenario, seed)
    const told = resultOfRun(withLag(run, { valueS: truth.lagS + uToldS * random.normal(), uS: uToldS, n: 14 }))
    const untold = resultOfRun(run)
    const simple = naive(run)
    const bound = withBound ? boundOf(run, truth.lagS) : null
    used += untold.make.n
    for (const point of ['make', 'break'] as const) {
      const truePa = truth[`${point}Pa`] ?? Number.NaN
      const errorOf = (valuePa: number | null) => (valuePa ?? Number.NaN) - truePa
      errors.told.push(errorOf(told[point].valuePa))
      errors.untold.push(errorOf(untold[point].valuePa))
      errors.script.push(errorOf(simple.script[`${point}Pa`]))
      errors.midpoint.push(errorOf(simple.midpoint[`${point}Pa`]))
      if (bound) errors.bound.push(errorOf(bound[`${point}Pa`]))
      stated[point].push(statedOf(untold[point], errorOf(untold[point].valuePa) + gaugeErrorPa))
    }
    const trueD = (truth.makePa ?? Number.NaN) - (truth.breakPa ?? Number.NaN)
    const { valuePa } = untold.differential
    const gainPa = (gaugeErrorPa * trueD) / (truth.makePa ?? Number.NaN)
    stated.differential.push(statedOf(untold.differential, (valuePa ?? Number.NaN) - trueD + gainPa))
  }
  return {
    name: bench.name,
    parts,
    rmsPa: {
      script: rms(errors.script),
      midpoint: rms(errors.midpoint),
      told: rms(errors.told),
      untold: rms(errors.untold),
      bound: rms(errors.bound),
    },
    coverage: {
      make: coverage(stated.make),
      break: coverage(stated.break),
      differential: coverage(stated.differential),
    },
    coverageOfU: {
      make: coverageOfU(stated.make),
      break: coverageOfU(stated.break),
      differential: coverageOfU(stated.differential),
    },
    width: { make: width(stated.make), break: width(stated.break), differential: width(stated.differential) },
    usedCycles: used / parts,
  }
}

/**
 * `count` draws of the standard normal that fill it evenly (its quantiles, shuffled): with the gauge dominating, plain draws would
 * make the table's coverage a matter of luck.
 */
function spreadNormal(count: number): number[] {
  const random = createRandom(count)
  const order = Array.from({ length: count }, (_, i) => ({ i, at: random.uniform() })).sort((a, b) => a.at - b.at)
  return order.map(({ i }) => normalQuantile((i + 0.5) / count))
}

/** Errors and what is stated for them, Pa. */
type Stated = { error: number; U: number; low: number; high: number }

const statedOf = ({ UPa, allowLowPa, allowHighPa }: Estimate, error: number): Stated => ({
  error,
  U: UPa ?? Number.NaN,
  low: allowLowPa ?? 0,
  high: allowHighPa ?? 0,
})

const rms = (xs: readonly number[]) => Math.sqrt(xs.reduce((sum, x) => sum + x * x, 0) / xs.length)
/** An interval that could not be stated (NaN) does not hold the truth. */
const coverageOfU = (all: readonly Stated[]) => all.filter((s) => Math.abs(s.error) <= s.U).length / all.length
/** What reads too low may lie higher: an error below 0 has the allowance above it. */
const coverage = (all: readonly Stated[]) =>
  all.filter((s) => s.error <= s.U + s.low && -s.error <= s.U + s.high).length / all.length
const width = (all: readonly Stated[]) =>
  all.reduce((sum, s) => sum + s.U, 0) / all.length / (1.96 * rms(all.map((s) => s.error)))

/** Least and greatest coverage of a 95 % interval, and how much wider than needed it may be. */
const honest = { least: 0.93, most: 0.98, widest: 1.4 }

/** The bars that a row misses, each as a sentence; `slack` = standard deviations of a share that chance is allowed (short runs). */
export function missedBars({ name, bars }: AccuracyScenario, row: AccuracyRow, slack = 0): string[] {
  const missed: string[] = []
  const { rmsPa } = row
  const at = (what: string, value: number, limit: number, worse: boolean) => {
    if (worse || Number.isNaN(value)) missed.push(`${name}: ${what} is ${value.toFixed(3)}, bar ${limit}`)
  }
  if (bars) {
    at('RMS error told the lag', rmsPa.told, bars.toldPa, rmsPa.told > bars.toldPa)
    at('RMS error told nothing', rmsPa.untold, bars.untoldPa, rmsPa.untold > bars.untoldPa)
    const times = rmsPa.script / rmsPa.untold
    if (bars.timesBetterThanScript !== null)
      at('times better than the script', times, bars.timesBetterThanScript, times < bars.timesBetterThanScript)
  }
  const chance = slack * Math.sqrt((0.95 * 0.05) / row.parts)
  // A zero rounded to a coarse digit is rectangular: its interval may hold more, never less.
  const most = name === 'coarse-digit' ? 1 : honest.most
  for (const q of ['make', 'break', 'differential'] as const) {
    at(`coverage of ${q}`, row.coverage[q], honest.least, row.coverage[q] < honest.least - chance)
    at(`coverage of ${q} by U alone`, row.coverageOfU[q], most, row.coverageOfU[q] > most + chance)
    at(
      `width of ${q}`,
      row.width[q],
      honest.widest,
      row.width[q] > honest.widest * (1 + slack / Math.sqrt(2 * row.parts)),
    )
  }
  return missed
}
