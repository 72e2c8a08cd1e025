// Readings of each closure into those above a limit: how many in a row, how many in all, without those of a meter that settles.
import { criteria } from '../criteria.table.ts'
import type { ClosureReadings } from './contact-resistance.ts'

/** Readings in a row above a limit. */
type HighRun = {
  readings: number
  forS: number
  fromUs: number
  /** It lies where a meter may still look for its range. */
  settles: boolean
}

export type HighReadings = {
  closures: number
  /** Closures with a run above the limit, and those whose runs all lie where a meter may still look for its range. */
  high: number
  settling: number
  /** The longest of these runs; null where there is none. */
  longest: HighRun | null
  /** Readings past that time, and those of them above the limit. */
  readings: number
  above: number
  worstOhm: number | null
  firstUs: number | null
}

type Readings = ClosureReadings['readings']

/** What lies above `limitOhm`, leads off. */
export function highReadings(closures: readonly ClosureReadings[], limitOhm: number): HighReadings {
  const looked = closures.map((closure) => lookAt(closure, limitOhm))
  const runs = looked.flatMap((l) => l.runs)
  const alone = looked.flatMap((l) => l.above)
  const high = looked.filter((l) => l.runs.length > 0)
  const firsts = [...runs.map((r) => r.fromUs), ...alone.map((r) => r.tUs)]
  const worst = [...looked.flatMap((l) => l.inRuns), ...alone].map((r) => r.ohm)
  return {
    closures: closures.length,
    high: high.length,
    settling: high.filter((l) => l.runs.every((r) => r.settles)).length,
    longest: runs.reduce<HighRun | null>((a, b) => (a !== null && a.forS >= b.forS ? a : b), null),
    readings: looked.reduce((sum, l) => sum + l.readings, 0),
    above: alone.length,
    worstOhm: worst.length === 0 ? null : worst.reduce((a, b) => Math.max(a, b)),
    firstUs: firsts.length === 0 ? null : firsts.reduce((a, b) => Math.min(a, b)),
  }
}

function lookAt({ closedUs, readings }: ClosureReadings, limitOhm: number) {
  const settledUs = (closedUs ?? Number.NEGATIVE_INFINITY) + criteria.meterSettleUs
  const past = readings.filter((r) => r.tUs > settledUs)
  const stretches = runsAbove(readings.slice(settledFrom(readings, settledUs, limitOhm)), limitOhm)
  return {
    inRuns: stretches.flat(),
    runs: stretches.map((run) => runOf(run, settledUs)),
    readings: past.length,
    above: past.filter((r) => r.ohm > limitOhm),
  }
}

/**
 * The first reading above the limit from which on the meter does not settle: the second after it comes no nearer to the lowest
 * of the closure. The second, for a meter may answer twice from one conversion.
 */
function settledFrom(readings: Readings, settledUs: number, limitOhm: number): number {
  const lowestOhm = readings.reduce((low, r) => Math.min(low, r.ohm), Number.POSITIVE_INFINITY)
  const settles = (i: number) => {
    const [now, later] = [readings[i]!, readings[i + 2]]
    if (now.ohm <= limitOhm || !later) return true
    const left = Math.exp(-(later.tUs - now.tUs) / 1e6 / criteria.meterSettleS)
    return later.ohm - lowestOhm <= left * (now.ohm - lowestOhm)
  }
  const from = readings.findIndex((r, i) => r.tUs > settledUs || !settles(i))
  return from < 0 ? readings.length : from
}

function runsAbove(readings: Readings, limitOhm: number): Readings[] {
  const runs: { tUs: number; ohm: number }[][] = []
  let run: { tUs: number; ohm: number }[] = []
  for (const reading of readings) {
    if (reading.ohm <= limitOhm) run = []
    else if (run.push(reading) === criteria.highReadings) runs.push(run)
  }
  return runs
}

function runOf(run: Readings, settledUs: number): HighRun {
  const [fromUs, toUs] = [run[0]!.tUs, run.at(-1)!.tUs]
  return { readings: run.length, forS: (toUs - fromUs) / 1e6, fromUs, settles: toUs <= settledUs }
}
