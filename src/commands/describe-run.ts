// A run into the plain lines that name it and tell its verdict.

import { settlingsOf } from '../core/decision/settling.ts'
import { blockedBy } from '../core/decision/verdict.ts'
import { lostPorts } from '../core/guide/absent-ports.ts'
import { leftOutOf } from '../core/guide/step.ts'
import { type Run, step } from '../core/intake/run.ts'
import { resultOf } from '../core/judge.ts'
import type { Result } from '../core/model/result.ts'
import { wiredPorts } from '../core/model/rig.ts'
import { toArray } from '../core/model/series.ts'
import type { Setup } from '../core/model/setup.ts'
import { isSimulatedPath, parseSimulatedPath } from '../simulation/wire.ts'
import { verdictLines } from '../terminal/text/verdict-lines.ts'
import type { Grounds } from '../terminal/text/verdict-reason.ts'
import { unknownSetup } from './unknown-setup.ts'

export type Told = { setup: Setup; result: Result; grounds: Grounds }

/**
 * Setup and result of a finished run, `astray` where its recording is, `signature` as far as that was looked at. Throws a Problem where the first line is damaged, so
 * that neither can be known.
 */
export function tell(run: Run, astray: Grounds['astray'] = null, signature: Grounds['signature'] = null): Told {
  const result = resultOf(run)
  if (run.setup !== null && result !== null)
    return { setup: run.setup, result, grounds: { ...groundsOf(run, run.setup, result), astray, signature } }
  throw unknownSetup(run)
}

/** What is known of `run` beside its result. */
export function groundsOf(run: Run, setup: Setup, result: Result): Grounds {
  return {
    settlings: settlingsOf(result, setup.rating, setup.rig),
    leftOut: leftOutOf(toArray(run.marks)),
    lost: lostPorts(run),
    end: run.end?.reason ?? null,
    blocked: blockedBy(setup, result.limits),
  }
}

/** The result that `run` will have once it is sealed as it is now; null before its `start`. Seals come right after `end`. */
export function resultWhenSealed(run: Run): Result | null {
  return resultOf(step(run, { type: 'seal', t: run.tUs, lines: 0, sha256: '', matches: true }))
}

/** What names a test. */
export type TestStart = Pick<Setup['start'], 'part' | 'rig' | 'simulated'>

/** Part and bench in one line, such as `DP-62, serial A1047, on north bench`. */
export function titleOf({ part, rig, simulated }: TestStart): string {
  const pieces = [part.model ?? part.kind, part.serial && `serial ${part.serial}`, rig.name && `on ${rig.name}`]
  // A simulated run is never taken for a real one: said even where the bench's own name does not.
  const aside = simulated && !rig.name?.includes('simulated') ? ' (simulated)' : ''
  return pieces.filter(Boolean).join(', ') + aside
}

/** How many times as fast as real the bench of a run went; 1 for a real one. */
export function speedOf({ rig }: Pick<TestStart, 'rig'>): number {
  const path = wiredPorts(rig)[0]?.device.port?.path
  return path && isSimulatedPath(path) ? parseSimulatedPath(path).speed : 1
}

/** The verdict with its numbers, findings and what to do next. */
export function closingLines({ setup, result, grounds }: Told): string[] {
  const { part, simulated } = setup.start
  return verdictLines(result, part, { simulated, ...grounds })
}
