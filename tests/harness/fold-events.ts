// Events as a recording holds them into the run and the result that they make, with the project's own drivers.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { initialRun, type Run, step } from '../../src/core/intake/run.ts'
import { resultOf } from '../../src/core/judge.ts'
import { parseEvent, type RecordedEvent } from '../../src/core/model/event.ts'
import type { Result } from '../../src/core/model/result.ts'
import { loadDrivers } from '../../src/load-drivers.ts'

const findDecode = bindDrivers(await loadDrivers())

/** One event as a reader of the file would check it; throws where the format does not know it. */
export function readEvent(event: object): RecordedEvent {
  const parsed = parseEvent(event)
  if ('why' in parsed) throw new Error(parsed.why)
  if (parsed.event.type === 'seal') throw new Error('a seal comes from sealRun')
  return parsed.event
}

/** A run before its first event. */
export function newRun(): Run {
  return initialRun(findDecode)
}

/** The run after all of `events`. */
export function foldEvents(events: Iterable<object>): Run {
  let run = newRun()
  for (const event of events) run = step(run, readEvent(event))
  return run
}

/** The run after a seal at its end that matches, or does not. */
export function sealRun(run: Run, matches = true): Run {
  return step(run, { type: 'seal', t: run.tUs, lines: 1, sha256: '', matches })
}

/** The result of `events` with a matching seal behind them. */
export function resultFrom(events: Iterable<object>): Result {
  const result = resultOf(sealRun(foldEvents(events)))
  if (!result) throw new Error('no start among the events')
  return result
}
