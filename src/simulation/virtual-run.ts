// A whole test of a scenario in virtual time, as the events of a recording: no clock, no waiting, the same for the same seed.

import type { RunEvent } from '../core/model/event.ts'
import type { Job } from '../core/model/job.ts'
import { type PortName, rigPorts } from '../core/model/rig.ts'
import { createBench, type Emission } from './bench.ts'
import { createRandom } from './random.ts'
import type { Scenario } from './scenario.ts'
import type { Trip } from './switch.ts'

export type VirtualRun = {
  /** `start` to `end`, times never decreasing; verdict and seal are the writer's. Can be walked once. */
  events: Iterable<RunEvent>
  /** The trips at the diaphragm; complete once the events have been walked. */
  trips: readonly Trip[]
}

export type RunStamp = {
  /** Wall-clock time of the start. ISO 8601 UTC. */
  at: string
  /** A UUID of version 7; made from `at` and the seed where none is given. */
  id?: string
  software?: unknown
  /** Who it is tested for. */
  job?: Job
}

// A fixed morning in the invented workshop, so that a seed alone makes the whole recording.
const defaultAt = '2026-02-03T08:00:00.000Z'
// Four ticks a second (the recording's definition).
const tickUs = 250_000

/** Runs a scenario; `stamp` is what only the caller can know: when, and under which name. */
export function runVirtually(scenario: Scenario, seed: number, stamp: RunStamp = { at: defaultAt }): VirtualRun {
  const bench = createBench(scenario, seed)
  return { events: eventsOf(scenario, bench, { id: runId(stamp.at, seed), ...stamp }), trips: bench.trips }
}

function* eventsOf(scenario: Scenario, bench: ReturnType<typeof createBench>, stamp: RunStamp): Generator<RunEvent> {
  yield {
    type: 'start',
    format: 1,
    id: stamp.id ?? '',
    at: stamp.at,
    purpose: scenario.purpose,
    simulated: true,
    operator: 'simulated hand',
    part: scenario.part,
    rig: scenario.rig,
    ...(stamp.job && { job: stamp.job }),
    conditions: scenario.conditions,
    software: stamp.software ?? null,
  }
  const ports = rigPorts(scenario.rig).map(({ name }) => name)
  for (const port of ports) yield { type: 'link', t: 0, port, state: 'open', why: null }

  const { query } = scenario.truth.meter
  const asked: PortName | null = ports.includes('meter') ? 'meter' : null
  const lost = new Set<PortName>()
  let nextTickUs = tickUs
  let nextQueryUs = query && asked ? 0 : Number.POSITIVE_INFINITY
  let waitsUntilUs: number | null = null

  let toUs = 0
  while (!bench.done) {
    toUs = Math.min(nextTickUs, nextQueryUs, waitsUntilUs ?? Number.POSITIVE_INFINITY)
    for (const emission of bench.advanceTo(toUs)) {
      if (emission.type === 'link') {
        if (emission.state === 'lost') lost.add(emission.port)
        else lost.delete(emission.port)
      }
      if (emission.type === 'bytes' && emission.port === asked) waitsUntilUs = null
      yield eventOf(emission)
    }
    if (toUs === nextTickUs) {
      yield { type: 'tick', t: toUs }
      nextTickUs += tickUs
    }
    if (toUs === waitsUntilUs) waitsUntilUs = null
    if (toUs === nextQueryUs && query && asked) {
      nextQueryUs += query.periodMs * 1000
      // One command in flight: a beat that falls into the wait is left out.
      if (waitsUntilUs === null && !lost.has(asked)) {
        bench.write(asked, query.bytes, toUs)
        waitsUntilUs = toUs + query.replyMs * 1000
        yield { type: 'tx', t: toUs, port: asked, ...bytesOf(query.bytes) }
      }
    }
  }
  yield { type: 'end', t: toUs, reason: [...lost].some((port) => port !== 'manometer-2') ? 'link-lost' : 'finished' }
}

function eventOf(emission: Emission): RunEvent {
  const t = emission.timeUs
  if (emission.type === 'mark')
    return { type: 'mark', t, mark: emission.mark, by: emission.mark === 'discard-cycle' ? 'operator' : 'flow' }
  if (emission.type === 'link') {
    const why = emission.state === 'lost' ? 'the device is gone' : 'the device answers again'
    return { type: 'link', t, port: emission.port, state: emission.state, why }
  }
  return { type: 'rx', t, port: emission.port, ...bytesOf(emission.bytes) }
}

// `text` where all is printable ASCII, CR, LF or TAB, `b64` otherwise (the recording's definition).
function bytesOf(bytes: string): { text: string } | { b64: string } {
  return /^[\x20-\x7e\r\n\t]*$/.test(bytes) ? { text: bytes } : { b64: btoa(bytes) }
}

// RFC 9562 § 5.7: 48 bits of Unix time in ms, version 7, variant 10, the rest by chance: here the seed's.
function runId(at: string, seed: number): string {
  const random = createRandom(seed).fork('id')
  const hex = (digits: number) =>
    Array.from({ length: digits }, () => Math.floor(16 * random.uniform()).toString(16)).join('')
  const time = Date.parse(at).toString(16).padStart(12, '0')
  return `${time.slice(0, 8)}-${time.slice(8)}-7${hex(3)}-${random.pick(['8', '9', 'a', 'b'])}${hex(3)}-${hex(12)}`
}
