// The events of a rig that is only looked at into what its instruments send, what is read of that, and what it proves.

import type { FindDecode } from '../commands/bind-drivers.ts'
import { initialRun, type Run, step } from '../core/intake/run.ts'
import { eventBytes, type RecordedEvent } from '../core/model/event.ts'
import { type PortName, type Rig, type RigPort, rigPorts } from '../core/model/rig.ts'
import { isInRange } from '../core/model/samples.ts'
import { type PressureUnit, pressureUnits } from '../core/model/units.ts'
import { checkRig, type RigCheck } from '../core/signal/rig-check.ts'
import { numberText } from '../core/text/pressure-text.ts'
import { readingText } from '../core/text/reading-text.ts'
import type { Heard, PortView, RigViewState } from '../terminal/screens/rig-view.ts'

const keptPieces = 12
const keptSamples = 6000

/** What was heard so far. */
export type EarsView = Omit<RigViewState, 'ports'> & {
  ports: (Pick<PortView, 'link' | 'readingsPerS' | 'faults' | 'quietS' | 'heard'> & { name: PortName })[]
  /** The finest last digit that was shown, in the unit of the manometer; null before there was one. */
  digit: { value: number; unit: string } | null
}

export type Ears = {
  hear(events: readonly RecordedEvent[]): void
  /** Proves again, from now on. */
  again(): void
  view(): EarsView
}

/** Keeps the last pieces of each port with what its driver makes of them, and the unit and digit of the pressures. */
export function createEars(rig: Rig, findDecode: FindDecode): Ears {
  const ports = new Map(
    rigPorts(rig).map(({ name, device }) => [
      name,
      {
        ...{ decode: findDecode(name, device as RigPort), memory: null as unknown },
        ...{ heard: [] as Heard[], sinceUs: null as number | null },
      },
    ]),
  )
  let run: Run = initialRun(findDecode)
  let fromUs = 0
  let digitPa = 0
  let unit: PressureUnit = 'Pa'

  function hearOne(event: RecordedEvent): void {
    const linked = event.type === 'link' ? ports.get(event.port) : undefined
    if (event.type === 'link' && linked) {
      linked.memory = null
      linked.sinceUs = event.state === 'lost' ? null : event.t
    }
    const port = event.type === 'rx' || event.type === 'tx' ? ports.get(event.port) : undefined
    if ((event.type !== 'rx' && event.type !== 'tx') || !port) return
    const bytes = eventBytes(event)
    const way = event.type === 'tx' ? 'sent' : 'received'
    const { readings, faults, memory } = port.decode(port.memory, bytes, way)
    port.memory = memory
    if (way === 'sent') return
    port.sinceUs = event.t
    for (const reading of readings)
      if (reading.quantity === 'pressure' && event.port !== 'manometer-2') {
        if (reading.unit in pressureUnits) unit = reading.unit as PressureUnit
        // The finest that was shown: a display drops digits at large values.
        if (reading.digit && (digitPa === 0 || reading.digit < digitPa)) digitPa = reading.digit
      }
    const read = [...readings.map(readingText), ...faults.map(({ text }) => text)].join(', ')
    port.heard.push({ raw: bytes, read: read || '…', bad: faults.length > 0 })
    if (port.heard.length > keptPieces) port.heard.shift()
  }

  return {
    hear(events) {
      for (const event of events) {
        hearOne(event)
        run = step(run, event)
      }
    },
    again() {
      fromUs = run.tUs
    },
    view: () => ({
      ports: [...ports].map(([name, { heard, sinceUs }]) => {
        const port = run.ports.find((each) => each.name === name)
        const [first = 0, ...rest] = port?.recentUs ?? []
        const last = rest.at(-1) ?? first
        return {
          ...{ name, link: port?.link ?? 'waiting', faults: port?.faults ?? 0, heard: heard.slice() },
          readingsPerS: last > first ? (rest.length * 1e6) / (last - first) : null,
          quietS: sinceUs === null ? null : (run.tUs - sinceUs) / 1e6,
        }
      }),
      check: check(run, fromUs, digitPa),
      ...{ unit, digitPa },
      digit: digitPa > 0 ? { value: Number(numberText(digitPa, unit, { upTo: 6 })), unit } : null,
    }),
  }
}

function check(run: Run, fromUs: number, digitPa: number): RigCheck {
  const { pressure } = run
  const samples = pressure.slice(pressure.length - keptSamples).filter((s) => isInRange(s.rawPa))
  return checkRig(
    samples.map(({ tUs, rawPa }) => ({ tUs, pressurePa: rawPa })),
    fromUs,
    digitPa,
  )
}
