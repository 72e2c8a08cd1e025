// Bytes on a serial line: how long they take, one after the other, and which of them a cable that came off cuts away.
import type { PortName, RigPort } from '../core/model/rig.ts'
import type { Line } from './manometer.ts'
import type { Spell, Spells } from './spells.ts'

/** A cable off for a spell. `midLine` false: whole lines only are lost, the kindest case; true: lines are cut where it happens. */
export type CableTruth = Spell & { port: PortName; midLine: boolean }

/** Bytes with the arrival time of the last of them. */
export type Arrival = { timeUs: number; bytes: string }

export type SerialLine = {
  /** Puts a line on the wire when it is ready and the line before has gone; null = nothing of it arrives. */
  send(line: Line): Arrival | null
  /** When the last of `bytes`, written at `timeUs`, is at the instrument; null = the cable is off. */
  receive(bytes: string, timeUs: number): number | null
}

/** Microseconds that one character takes: start bit, data bits, parity bit, stop bits over the baud rate; 0 where the rig states no rate. */
export function characterUs(port: RigPort['port']): number {
  if (!port?.baudRate) return 0
  const parityBits = port.parity === 'even' || port.parity === 'odd' ? 1 : 0
  return (1e6 * (1 + (port.dataBits ?? 8) + parityBits + (port.stopBits ?? 1))) / port.baudRate
}

export function createSerialLine(port: RigPort['port'], cable: Spells<CableTruth>): SerialLine {
  const charUs = characterUs(port)
  let freeUs = 0

  return {
    send({ readyUs, bytes }) {
      const startUs = Math.max(readyUs, freeUs)
      const endUs = startUs + bytes.length * charUs
      freeUs = endUs
      const off = cable.at(startUs) ?? cable.at(endUs)
      if (!off) return { timeUs: Math.round(endUs), bytes }
      if (!off.midLine || charUs === 0) return null
      if (startUs < off.startUs) {
        const arrived = Math.floor((off.startUs - startUs) / charUs)
        return arrived === 0 ? null : { timeUs: Math.round(startUs + arrived * charUs), bytes: bytes.slice(0, arrived) }
      }
      const missed = Math.ceil((off.endUs - startUs) / charUs)
      return missed >= bytes.length ? null : { timeUs: Math.round(endUs), bytes: bytes.slice(missed) }
    },
    receive(bytes, timeUs) {
      const endUs = Math.round(timeUs + bytes.length * charUs)
      return cable.at(timeUs) || cable.at(endUs) ? null : endUs
    },
  }
}
