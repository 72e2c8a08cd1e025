// Free-running lines of text (sign, number, unit, flags; with labels or without) into pressures and resistances.
import type { Fault, Reading } from '../src/core/model/reading.ts'
import type { Driver, Options } from '../src/driver.ts'
import { lineEnd, lineUnit, readLine } from '../src/protocol/line-values.ts'
import { type LineMemory, overlong, splitLines } from '../src/protocol/lines.ts'
import { decodeSymbols } from '../src/protocol/symbols.ts'

const maxFrameBytes = 256

/** `unit`: canonical name of the unit last read, which an over-range text without one is taken to be in. */
type Memory = { lines: LineMemory | null; unit: string | null }

export const driver: Driver<Memory> = {
  id: 'ascii-line',
  title: 'Free-running lines: sign, number, unit, flags',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    unit: lineUnit,
    only: {
      kind: 'text',
      default: '',
      help: 'Only lines that hold this text count, where several displays come in turn; empty: all.',
    },
    end: lineEnd,
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: (options) => ({ framing: { kind: 'lines', end: endOf(options) }, start: null, poll: [], maxFrameBytes }),
  decode: (memory, chunk, { options, role }) => {
    const { lines, memory: lineMemory } = splitLines(memory?.lines ?? null, chunk, endOf(options), maxFrameBytes)
    const readings: Reading[] = []
    const faults: Fault[] = []
    let unit = memory?.unit ?? null
    for (const line of lines) {
      if (line === null) faults.push(overlong(maxFrameBytes))
      else if (line.text.trim() !== '' && line.text.includes(String(options['only'] ?? ''))) {
        const found = readLine(decodeSymbols(line.text), role, String(options['unit']), unit)
        if (Array.isArray(found)) {
          readings.push(...found.map((value) => ({ ...value, frameBytes: line.frameBytes })))
          unit = found.at(-1)?.unit ?? unit
        } else faults.push(found)
      }
    }
    return { readings, faults, memory: { lines: lineMemory, unit } }
  },
}

function endOf(options: Options): 'lf' | 'cr' {
  return options['end'] === 'cr' ? 'cr' : 'lf'
}
