// Frames of fourteen numbered bytes that mirror a meter's display segments into resistances.
import type { Fault, Reading } from '../src/core/model/reading.ts'
import { knownUnit } from '../src/core/model/units.ts'
import type { Driver, Role } from '../src/driver.ts'
import { faultOf, fitting, type Measured, measured } from '../src/protocol/measured.ts'
import { digitSize, parseNumber } from '../src/protocol/number-forms.ts'
import { readSegments, type SegmentSymbol, segmentFrameBytes } from '../src/protocol/segment-frame.ts'

/** `frame`: its bytes so far, null before the first: what comes then is the tail of one. `told`: that bytes are out of order, since the last whole frame. */
type Memory = { frame: string | null; told: boolean }

const prefixes: Partial<Record<SegmentSymbol, string>> = { u: 'uOhm', m: 'mOHM', k: 'kOhm', M: 'MOhm' }
/** Beside ohms these cannot be: the frame is damaged, or the meter is another one. */
const others: readonly SegmentSymbol[] = ['n', '%', 'F', 'A', 'V', 'Hz', 'DIODE', 'USER3', 'USER2', 'USER1', 'USER0']

export const driver: Driver<Memory> = {
  id: 'segment-frame',
  title: 'Frames of fourteen numbered bytes that mirror a display',
  serial: { baudRate: 2400, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {},
  channels: [{ name: 'resistance', quantity: 'resistance', unit: 'ohm' }],
  wire: () => ({ framing: { kind: 'bytes' }, start: null, poll: [], maxFrameBytes: segmentFrameBytes }),
  decode: (memory, chunk, { role }) => {
    let { frame, told } = memory ?? { frame: null, told: false }
    const readings: Reading[] = []
    const faults: Fault[] = []
    for (const byte of chunk) {
      const [number, due]: [number, number] = [byte.charCodeAt(0) >> 4, (frame?.length ?? 0) + 1]
      if (number === due) frame = (frame ?? '') + byte
      else if (frame === null) continue
      else {
        if (!told) faults.push(faultOf('unreadable', `byte ${number} of a frame came where ${due} belongs`))
        told = true
        frame = number === 1 ? byte : ''
      }
      if (frame.length < segmentFrameBytes) continue
      const found = readFrame(frame, role)
      if (Array.isArray(found)) readings.push(...found.map((value) => ({ ...value, frameBytes: segmentFrameBytes })))
      else faults.push(found)
      frame = ''
      told = false
    }
    return { readings, faults, memory: { frame, told } }
  },
}

function readFrame(frame: string, role: Role): Measured[] | Fault {
  const display = readSegments(frame)
  if (display === null) return faultOf('unreadable', 'segments that make no digit')
  const { digits, symbols } = display
  for (const name of ['HOLD', 'REL'] as const)
    if (symbols.has(name)) return faultOf('held', `the display is on ${name}: "${digits}"`)
  if (symbols.has('BATTERY')) return faultOf('low-battery', `the battery is low: "${digits}"`)
  const prefix = Object.keys(prefixes).filter((name) => symbols.has(name as SegmentSymbol))
  const other = others.find((name) => symbols.has(name))
  if (!symbols.has('OHM') || other !== undefined || prefix.length > 1)
    return faultOf('unreadable', `the display shows ${[...symbols].join(' ')}, not ohms`)
  const unit = knownUnit(prefixes[prefix[0] as SegmentSymbol] ?? 'ohm')!
  if (digits.replace(/[-. ]/g, '') === '0L') return fitting(measured(Number.POSITIVE_INFINITY, null, unit), role)
  const value = parseNumber(digits)
  if (value === null) return faultOf('unreadable', `no number on the display: "${digits}"`)
  return fitting(measured(value, digitSize(digits), unit), role)
}
