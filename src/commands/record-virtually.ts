// A simulated bench, run to its end in virtual time, into a sealed recording.

import { initialRun, type Run, step } from '../core/intake/run.ts'
import type { StartEvent } from '../core/model/event.ts'
import { createRecording, type Recorder, type StartFields } from '../recording/append.ts'
import type { Scenario } from '../simulation/scenario.ts'
import { type RunStamp, runVirtually } from '../simulation/virtual-run.ts'
import type { FindDecode } from './bind-drivers.ts'
import { resultWhenSealed } from './describe-run.ts'

/** The pressures at which the simulated diaphragm really moved. */
export type Trips = ReturnType<typeof runVirtually>['trips']

/** Writes the recording at `path` with its verdict and seal; each event is stepped after it was written. Gives the true trips. */
export function recordVirtually(
  scenario: Scenario,
  seed: number,
  path: string,
  findDecode: FindDecode,
  stamp?: RunStamp,
): Trips {
  const { events, trips } = runVirtually(scenario, seed, stamp)
  let recorder: Recorder | null = null
  let run: Run = initialRun(findDecode)
  try {
    for (const event of events) {
      if (event.type === 'start') recorder = createRecording(path, startFields(event))
      else if (event.type !== 'seal') recorder?.append(event)
      if (event.type !== 'seal') run = step(run, event)
    }
    recorder?.append({ type: 'verdict', t: run.tUs, result: resultWhenSealed(run) })
    recorder?.seal(run.tUs)
  } finally {
    recorder?.close()
  }
  return trips
}

/** The first line of a simulated run, with every field that it may leave out. */
function startFields({
  id,
  at,
  purpose,
  simulated,
  operator,
  part,
  rig,
  conditions,
  software,
  drivers,
  job,
}: StartEvent): StartFields {
  return {
    ...{ id, at, purpose, simulated, part, rig },
    operator: typeof operator === 'string' ? operator : null,
    conditions: conditions ?? null,
    software: software ?? null,
    ...(drivers && { drivers }),
    ...(job && { job: { customer: job.customer ?? null, order: job.order ?? null } }),
  }
}
