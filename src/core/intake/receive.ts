// Bytes of one port into readings with the time at which each was taken, as far as the wire tells it.

import type { Decode, Fault, Reading } from '../model/reading.ts'
import type { PortName, RigPort } from '../model/rig.ts'
import type { Heard } from '../model/samples.ts'

export type PortState = {
  name: PortName
  decode: Decode
  /** Microseconds one character takes on the wire; 0 where the rig states no baud rate. */
  characterUs: number
  link: 'waiting' | 'open' | 'lost'
  memory: unknown
  faults: number
  lastFault: Fault | null
  /** Time of the newest reading: none that comes after it is dated before it. */
  newestUs: number
  /** Unit of the last pressure reading and when it first changed; null while it has not. */
  unit: string | null
  unitChangedUs: number | null
  /** Faults that matter to a finding, with the count of each. */
  faultCounts: Readonly<Record<string, number>>
  /** Lines so far, readable or not. */
  lines: number
  /** When the newest query went out, and the oldest that was without an answer then; null where none did. */
  askedUs: number | null
  waitingUs: number | null
  answered: boolean
  /** Times of the last few readings that were numbers, or over the range: what a port is alive by. */
  recentUs: readonly number[]
}

export type TimedReading = Omit<Reading, 'deviceUs'> & Heard

/** A port before its first byte. */
export function initialPort(name: PortName, device: RigPort, decode: Decode): PortState {
  const { port } = device
  const bits = 1 + (port?.dataBits ?? 8) + ((port?.parity ?? 'none') === 'none' ? 0 : 1) + (port?.stopBits ?? 1)
  return {
    name,
    decode,
    characterUs: port?.baudRate ? (bits * 1e6) / port.baudRate : 0,
    link: 'waiting',
    memory: null,
    faults: 0,
    lastFault: null,
    newestUs: Number.NEGATIVE_INFINITY,
    unit: null,
    unitChangedUs: null,
    faultCounts: {},
    lines: 0,
    askedUs: null,
    waitingUs: null,
    answered: true,
    recentUs: [],
  }
}

/** The port after `bytes` went out to it at `tUs`. */
export function ask(port: PortState, tUs: number, bytes: string): PortState {
  const { faults, memory } = port.decode(port.memory, bytes, 'sent')
  const waitingUs = port.answered ? tUs : port.waitingUs
  return withFaults({ ...port, memory, askedUs: tUs, waitingUs, answered: false }, faults)
}

function withFaults(port: PortState, faults: readonly Fault[]): PortState {
  if (faults.length === 0) return port
  const faultCounts = { ...port.faultCounts }
  for (const { code } of faults) faultCounts[code] = (faultCounts[code] ?? 0) + 1
  return { ...port, faults: port.faults + faults.length, lastFault: faults.at(-1) ?? null, faultCounts }
}

/**
 * The port after bytes that ended to arrive at `tUs`, and their readings, dated back by their time on the wire. A long
 * line would come out older than a short one that arrived with it or just before: the times of a port never decrease.
 */
export function receive(port: PortState, tUs: number, bytes: string): { port: PortState; readings: TimedReading[] } {
  const { readings, faults, memory } = port.decode(port.memory, bytes, 'received')
  const { askedUs, waitingUs, newestUs } = port
  const timed: TimedReading[] = []
  let latestUs = Number.POSITIVE_INFINITY
  for (let i = readings.length - 1; i >= 0; i--) {
    const reading = readings[i]!
    latestUs = Math.min(latestUs, tUs - reading.frameBytes * port.characterUs)
    const { quantity, value, unit, digit, frameBytes, deviceUs = null } = reading
    const heard = { tUs: Math.max(latestUs, newestUs), line: port.lines + i + 1, askedUs, waitingUs, deviceUs }
    timed[i] = { quantity, value, unit, digit, frameBytes, ...heard }
  }
  const next = { ...withFaults(port, faults), memory, newestUs: timed.at(-1)?.tUs ?? newestUs }
  next.lines += readings.length + faults.length
  next.answered ||= readings.length + faults.length > 0
  if (port.link === 'waiting') next.link = 'open'
  let isNumber = false
  for (const { quantity, unit, value, tUs } of timed) {
    isNumber ||= !Number.isNaN(value)
    if (quantity !== 'pressure') continue
    if (next.unit !== null && next.unit !== unit) next.unitChangedUs ??= tUs
    next.unit = unit
  }
  if (isNumber) {
    const recentUs = port.recentUs.slice(-19)
    recentUs.push(tUs)
    next.recentUs = recentUs
  }
  return { port: next, readings: timed }
}

/** The port after its cable came or went: unfinished bytes of the old connection are dropped. */
export function relink(port: PortState, state: 'open' | 'lost' | 'back'): PortState {
  return {
    ...port,
    link: state === 'lost' ? 'lost' : 'open',
    memory: null,
    askedUs: null,
    waitingUs: null,
    answered: true,
    recentUs: [],
  }
}
