// Verdicts and errors of one or many recordings into the one exit status.
import type { Verdict } from '../core/model/result.ts'
import { exitCodes, Problem } from '../errors.ts'

// The first of this order that applies wins.
const order: readonly number[] = [
  exitCodes.internal,
  exitCodes.full,
  exitCodes.failed,
  exitCodes.forbidden,
  exitCodes.absent,
  exitCodes.usage,
  exitCodes.unreadable,
  exitCodes.unavailable,
  1,
  2,
]

/** 0 pass, 1 fail, 2 undecided, void or not assessed. */
export function verdictStatus(verdict: Verdict): number {
  return verdict === 'pass' ? 0 : verdict === 'fail' ? 1 : 2
}

/** The status of an error; 70 for one that is no Problem. */
export function errorStatus(error: unknown): number {
  return error instanceof Problem ? error.exitCode : exitCodes.internal
}

/** The gravest of many; 0 where all are 0 or there is none. */
export function gravestStatus(statuses: readonly number[]): number {
  return order.find((status) => statuses.includes(status)) ?? 0
}
