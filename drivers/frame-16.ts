// Frames of sixteen characters (display, unit code, polarity, decimal point, eight digits) into pressures and resistances.
import type { Fault } from '../src/core/model/reading.ts'
import { type KnownUnit, knownUnit } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { type LineMemory, readLines } from '../src/protocol/lines.ts'
import { faultOf, fitting, type Measured, measured } from '../src/protocol/measured.ts'

/** A frame and a line feed that some put behind it. */
const maxFrameBytes = 18

/**
 * Behind the byte 02: a character that is always 4, the number of the display, two of unit code, polarity (0 positive,
 * 1 negative), decimals, eight digits, and CR, as makers' manuals print it. There 38, 39 and 40 are ohm, kOhm and MOhm;
 * of pressures each has codes of its own.
 */
const frame = /^4([1-9])([0-9A-Za-z]{2})([01])([0-7])(.{8})$/

export const driver: Driver<LineMemory> = {
  id: 'frame-16',
  title: 'Frames of sixteen characters: unit code, polarity, decimals, digits',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    units: {
      kind: 'text',
      default: '38=ohm 39=kOhm 40=MOhm',
      help: 'What each unit code means, such as 78=mbar; the fault of a frame names the code it has.',
    },
    display: {
      kind: 'number',
      min: 1,
      max: 9,
      default: 1,
      whole: true,
      help: 'Which display counts, where an instrument sends several in turn.',
    },
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: () => ({ framing: { kind: 'lines', end: 'cr' }, start: null, poll: [], maxFrameBytes }),
  decode: (memory, chunk, { options, role }) =>
    readLines(memory, chunk, 'cr', maxFrameBytes, (text) => (text === '' ? null : readFrame(text, role, options))),
}

function readFrame(text: string, role: Role, options: Options): Measured[] | Fault | null {
  const [, display, code = '', polarity, decimals, shown = ''] =
    (text.startsWith('\x02') && frame.exec(text.slice(1))) || []
  if (display === undefined) return faultOf('unreadable', `no frame of sixteen characters: "${text}"`)
  if (display !== String(options['display'])) return null
  const unit = unitOf(code, String(options['units']))
  if (unit === null) return faultOf('no-unit', `unit code ${code}: add ${code}= and its unit to the option "units"`)
  const digit = 10 ** -Number(decimals)
  const sign = polarity === '1' ? -1 : 1
  if (/^ *\d+$/.test(shown))
    return fitting(measured((sign * Number(shown)) / 10 ** Number(decimals), digit, unit), role)
  if (/^[ -]*-[ -]*$|^ *[0O]L *$/.test(shown))
    return fitting(measured(sign * Number.POSITIVE_INFINITY, null, unit), role)
  return faultOf('unreadable', `no number on the display: "${shown}"`)
}

/** The unit that `units` gives to `code`; null where it gives none that is known. */
function unitOf(code: string, units: string): KnownUnit | null {
  const [, name = ''] =
    units
      .split(/[\s,;]+/)
      .map((each) => each.split('='))
      .find(([of]) => of === code) ?? []
  return knownUnit(name)
}
