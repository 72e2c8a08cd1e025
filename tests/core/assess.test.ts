// What a screen keeps between strokes: the same comes out as if all were worked out again.
import { describe, expect, test } from 'vitest'
import { analyse } from '../../src/core/analyse.ts'
import { type Assessment, assess } from '../../src/core/assess.ts'
import { step } from '../../src/core/intake/run.ts'
import { judge } from '../../src/core/judge.ts'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { newRun, readEvent } from '../harness/fold-events.ts'

describe.each(['good', 'never-makes', 'no-common', 'zero-moved', 'board'])('On the bench %s', (name) => {
  const { events } = runVirtually(shortened(findScenario(name, 1)), 1)
  const seen: Exclude<Assessment, null>[] = []
  let run = newRun()
  let standing: Assessment = null
  let differing = 0
  for (const event of events) {
    run = step(run, readEvent(event))
    const next = assess(run, standing)
    if (next !== null && next !== standing) {
      seen.push(next)
      if (JSON.stringify(judge(analyse(run, run.setup!))) !== JSON.stringify(next.result)) differing++
    }
    standing = next
  }

  test('each result is the one that comes out of the whole run at once, to the last bit', () => {
    expect(seen.length).toBeGreaterThan(4)
    expect(differing).toBe(0)
  })

  test('what was found in a stroke is kept for as long as nothing about it changes', () => {
    const surfaces = ({ analysis }: Exclude<Assessment, null>) =>
      analysis.cycles.flatMap(({ makeTrip, breakTrip }) => [makeTrip?.surface, breakTrip?.surface].filter(Boolean))
    const kicks = ({ analysis }: Exclude<Assessment, null>) => analysis.blindKicks
    const kept = (of: (a: Exclude<Assessment, null>) => unknown[]) =>
      seen.slice(1).reduce((sum, after, i) => {
        const before = new Set(of(seen[i]!))
        return sum + of(after).filter((each) => before.has(each)).length
      }, 0)
    expect(kept(surfaces) + kept(kicks)).toBeGreaterThan(3)
  })
})
