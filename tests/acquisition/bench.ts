// Virtual instruments and a followed recording for the tests of the acquisition process.

import { join } from 'node:path'
import { eventBytes, type RecordedEvent } from '../../src/core/model/event.ts'
import type { PortName } from '../../src/core/model/rig.ts'
import type { SerialSettings, Wire } from '../../src/driver.ts'
import { createReader } from '../../src/recording/read.ts'
import type { PortPlan } from '../../src/source/acquire.ts'
import { type Following, follow } from '../../src/source/follow.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { until } from '../harness/until.ts'

const settings: SerialSettings = { baudRate: 115_200, dataBits: 8, parity: 'none', stopBits: 1 }
export const lineWire: Wire = { framing: { kind: 'lines', end: 'lf' }, start: null, poll: [], maxFrameBytes: 128 }

export const portPlan = (name: PortName, path: string, wire: Wire = lineWire): PortPlan => ({
  name,
  path,
  settings,
  wire,
})

const { at: _, ...start } = sampleStart
export const planOf = (file: string, ports: readonly PortPlan[]) => ({ file, start, ports })

export type Run = Following & {
  file: string
  /** All events read so far. */
  events: RecordedEvent[]
  /** Waits for an event that `look` likes. */
  sees(look: (event: RecordedEvent) => boolean, what: string): Promise<unknown>
  /** Bytes of one port in one direction, as recorded. */
  bytes(name: PortName, type?: 'rx' | 'tx'): string
  /** Finishes as the screen process does, and waits for the other one to be gone and its file to be read. */
  close(): Promise<void>
  /** Waits for the process to be gone and its file to be read. */
  over(): Promise<void>
}

let runs = 0

/** Starts recording `ports` into a new file of `folder` and reads along. */
export function startRun(folder: string, ports: readonly PortPlan[]): Run {
  const file = join(folder, `run-${++runs}.run`)
  const following = follow(planOf(file, ports), createReader())
  const events: RecordedEvent[] = []
  const reading = (async () => {
    for await (const batch of following.batches) events.push(...batch)
  })()
  const over = async () => {
    await following.exited
    await reading
  }
  const sees: Run['sees'] = (look, what) => until(() => events.some(look), what)
  return {
    ...following,
    file,
    events,
    sees,
    bytes: (name, type = 'rx') =>
      events
        .filter((event) => event.type === type && event.port === name)
        .map((event) => (event.type === 'rx' || event.type === 'tx' ? eventBytes(event) : ''))
        .join(''),
    async close() {
      following.finish('finished')
      await sees((event) => event.type === 'end', 'end')
      following.sendVerdict({ verdict: 'undecided' })
      await over()
    },
    over,
  }
}

export const linkOf = (event: RecordedEvent, state: 'open' | 'lost' | 'back', port: PortName = 'manometer') =>
  event.type === 'link' && event.state === state && event.port === port
