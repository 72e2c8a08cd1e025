// Blocks that a meter sends twice for each conversion into one reading a pair: what came only once is not trusted.
import type { Fault, Reading } from '../src/core/model/reading.ts'
import type { Driver } from '../src/driver.ts'
import { lineUnit, readLine } from '../src/protocol/line-values.ts'
import { type LineMemory, overlong, splitLines } from '../src/protocol/lines.ts'
import { faultOf } from '../src/protocol/measured.ts'
import { decodeSymbols } from '../src/protocol/symbols.ts'

/** Of a pair, which is one frame here. */
const maxFrameBytes = 128
const maxBlockBytes = maxFrameBytes / 2

/**
 * `first`: a block that waits for its twin. `last`: the text of the last pair. `parted`: blocks have differed since the
 * connection, before which nothing tells the first of a pair from the second. `unit`: that of the last reading.
 */
type Memory = {
  lines: LineMemory | null
  first: { text: string; frameBytes: number } | null
  last: string | null
  parted: boolean
  unit: string | null
}

export const driver: Driver<Memory> = {
  id: 'block-pair',
  title: 'Blocks sent twice for each conversion: sign, number, unit, flags',
  serial: { baudRate: 2400, dataBits: 8, parity: 'none', stopBits: 1 },
  options: { unit: lineUnit },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: () => ({ framing: { kind: 'lines', end: 'lf' }, start: null, poll: [], maxFrameBytes }),
  decode: (memory, chunk, { options, role }) => {
    const { lines, memory: lineMemory } = splitLines(memory?.lines ?? null, chunk, 'lf', maxBlockBytes)
    let { first, last, parted, unit } = memory ?? { first: null, last: null, parted: false, unit: null }
    const readings: Reading[] = []
    const faults: Fault[] = []
    for (const line of lines) {
      if (line === null) faults.push(overlong(maxBlockBytes))
      if (line?.text.trim() === '') continue
      if (line === null || first === null || line.text !== first.text) {
        if (first !== null) {
          const isSecond = last === null || (!parted && first.text === last)
          if (!isSecond) faults.push(faultOf('unreadable', `a block without its twin: "${first.text}"`))
          parted = true
        }
        first = line
        continue
      }
      // Dated by both, a pair is dated by its first block.
      const frameBytes = first.frameBytes + line.frameBytes
      first = null
      parted ||= last !== null && last !== line.text
      last = line.text
      const found = readLine(decodeSymbols(line.text), role, String(options['unit']), unit)
      if (Array.isArray(found)) {
        readings.push(...found.map((value) => ({ ...value, frameBytes })))
        unit = found.at(-1)?.unit ?? unit
      } else faults.push(found)
    }
    return { readings, faults, memory: { lines: lineMemory, first, last, parted, unit } }
  },
}
