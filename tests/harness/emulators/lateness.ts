// When instruments looked at a bench and when a recording has what they said, into how late the machine was with it.
import { type BytesEvent, eventBytes } from '../../../src/core/model/event.ts'
import type { VirtualSerial } from '../virtual-serial.ts'
import type { Shown } from './emulator.ts'

export type Lateness = {
  /** Follows what an instrument on `line` says; it has to look at the bench through what is given back. */
  follow(port: BytesEvent['port'], line: VirtualSerial, shows: () => Shown): () => Shown
  /** By how much the latest of the pieces that were looked at since `fromMs` came later than the quickest, s. `received`: all of a recording, in order. */
  spreadS(received: readonly BytesEvent[], fromMs: number): number
}

/** What two instruments show of one moment is recorded as far apart as this says: what a pace makes of that is the machine's share, not the program's. */
export function createLateness(now = () => performance.now()): Lateness {
  const said = new Map<string, { endByte: number; lookedMs: number }[]>()
  return {
    follow(port, line, shows) {
      const pieces: { endByte: number; lookedMs: number }[] = []
      said.set(port, pieces)
      let lookedMs = now()
      const write = line.write.bind(line)
      line.write = (bytes) => {
        pieces.push({ endByte: (pieces.at(-1)?.endByte ?? 0) + bytes.length, lookedMs })
        write(bytes)
      }
      return () => {
        lookedMs = now()
        return shows()
      }
    },
    spreadS(received, fromMs) {
      const lateMs = [...said].flatMap(([port, pieces]) => {
        let [endByte, at] = [0, 0]
        return received.flatMap((event) => {
          if (event.port !== port) return []
          endByte += eventBytes(event).length
          while (at + 1 < pieces.length && pieces[at]!.endByte < endByte) at++
          const lookedMs = pieces[at]?.lookedMs
          return lookedMs === undefined || lookedMs < fromMs ? [] : [event.t / 1000 - lookedMs]
        })
      })
      return (Math.max(...lateMs) - Math.min(...lateMs)) / 1000
    },
  }
}
