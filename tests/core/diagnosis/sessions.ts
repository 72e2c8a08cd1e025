// Short sessions with one thing wrong, and the findings that they lead to: what the tests of this folder share.
import type { FindingEffect, Result } from '../../../src/core/model/result.ts'
import { resultFrom } from '../../harness/fold-events.ts'
import {
  type ForeignBench,
  type ForeignRecording,
  makeForeignRecording,
  quietBench,
} from '../../harness/foreign-recording.ts'

export const ratedPa = 0.25 * 249.08891

/** Six strokes of a good part, the last two brisk, the first held at its peak, changed as the test says. */
export function session(change: Partial<ForeignBench> = {}): ForeignRecording {
  return makeForeignRecording({ ...quietBench, cycles: 5, ratePaPerS: (stroke) => (stroke > 3 ? 3 : 1.2), ...change })
}

/** What six short strokes leave open of hose and leak near a limit is the matter of the tests of the allowance. */
const notProved: readonly string[] = ['lag-not-proved', 'line-not-proved']

/** Codes and effects of the findings, in their order, hose and leak aside. */
export function found(recording: ForeignRecording): [string, FindingEffect][] {
  return judged(recording)
    .findings.filter((f) => !notProved.includes(f.code))
    .map((f) => [f.code, f.effect])
}

const results = new WeakMap<ForeignRecording, Result>()

/** The result of a recording; worked out once. */
export function judged(recording: ForeignRecording): Result {
  const result = results.get(recording) ?? resultFrom(recording.events)
  results.set(recording, result)
  return result
}

/** The recording with the fields of its first line changed. */
export function restarted(recording: ForeignRecording, fields: object): ForeignRecording {
  const [first, ...rest] = recording.events
  return { ...recording, events: [{ ...first!, ...fields }, ...rest] }
}

export const within = (tS: number, fromS: number, toS: number) => tS > fromS && tS < toS
