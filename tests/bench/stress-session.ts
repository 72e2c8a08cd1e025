// One row, cell and seed into what the program said of that session, held against the truth.
import type { Result, Verdict } from '../../src/core/model/result.ts'
import { createRandom } from '../../src/simulation/random.ts'
import { truthOf } from '../../src/simulation/scenario.ts'
import { resultOfRun, runOf } from './measure-part.ts'
import { type Cell, fairBench, type Instruments, type Quantity, quantities, type ReferenceU } from './stress-benches.ts'
import type { StressRow } from './stress-rows.table.ts'

/** A value against the truth. An allowance that the result does not know counts as 0; what has no value holds nothing. */
export type Held = { errorPa: number; UPa: number; allowLowPa: number; allowHighPa: number; within: boolean }

export type Session = {
  verdict: Verdict
  /** Finding codes, `limit:NAME` for each limit that did not pass, and `stroke:WHY` where most strokes do not count. */
  names: string[]
  held: Record<Quantity, Held | null>
}

export function heldOf(estimate: Result[Quantity], truePa: number): Held | null {
  const { valuePa, UPa } = estimate
  if (valuePa === null || UPa === null) return null
  const [allowLowPa, allowHighPa] = [estimate.allowLowPa ?? 0, estimate.allowHighPa ?? 0]
  const errorPa = valuePa - truePa
  return { errorPa, UPa, allowLowPa, allowHighPa, within: errorPa <= UPa + allowLowPa && -errorPa <= UPa + allowHighPa }
}

/** Why most of the strokes do not count, where that is so. */
function mostlyVoid({ cycles }: Result): string[] {
  const why = new Set(cycles.flatMap((cycle) => cycle.why ?? []))
  return [...why].filter((each) => cycles.filter((cycle) => cycle.why === each).length > cycles.length / 2)
}

export function runSession(row: StressRow, cell: Cell, U: ReferenceU, number: number): Session {
  // Far apart for each row, so that rows do not share their luck.
  const seed = Math.floor(createRandom(number).fork(`${row.name} ${cell}`).uniform() * 2 ** 30) * 2 + (number % 2)
  const fair = fairBench(row.instruments, cell, row.judged, U, seed)
  const scenario = row.change(fair, createRandom(seed).fork('row'), row.instruments)
  const { makePa, breakPa } = truthOf(scenario)
  if (makePa === null || breakPa === null) throw new Error(`${row.name}: a part that does not move has no truth`)
  const result = resultOfRun(runOf(scenario, seed))
  const trueOf = { make: makePa, break: breakPa, differential: makePa - breakPa }
  const held = quantities.map((q) => [q, heldOf(result[q], trueOf[q])] as const)
  return {
    verdict: result.verdict,
    names: [
      ...result.findings.map((f) => f.code),
      ...result.limits.filter((l) => l.outcome !== 'pass').map((l) => `limit:${l.name}`),
      ...mostlyVoid(result).map((why) => `stroke:${why}`),
    ],
    held: Object.fromEntries(held) as Session['held'],
  }
}

/** Where the truth of the reference is taken from: far inside every limit. */
const anyU: ReferenceU = { make: 1.5, break: 1.5, differential: 0.6 }

/** The median U that the program states on `sessions` fair benches with these instruments. */
export function referenceU(instruments: Instruments, sessions = 9): ReferenceU {
  const judged = { quantity: 'make', side: 'both' } as const
  const stated = Array.from({ length: sessions }, (_, i) =>
    resultOfRun(runOf(fairBench(instruments, 'good', judged, anyU, 1 + i), 1 + i)),
  )
  const median = (q: Quantity) => {
    const sorted = stated.map((result) => result[q].UPa ?? Number.NaN).sort((a, b) => a - b)
    return sorted[Math.floor(sorted.length / 2)]!
  }
  return { make: median('make'), break: median('break'), differential: median('differential') }
}
