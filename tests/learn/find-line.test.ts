// An unknown line, bit by bit, into the setting and the driver that are found on it.
import { describe, expect, test } from 'vitest'
import { findLine, settingText } from '../../src/commands/learn/find-line.ts'
import type { Line } from '../../src/commands/open-line.ts'
import type { SerialSettings } from '../../src/driver.ts'
import type { Piece } from '../../src/learn/heard.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { withCrc } from '../../src/protocol/modbus.ts'
import { heardThrough } from './uart.ts'

const drivers = [...(await loadDrivers()).values()]
const setting = (baudRate: number, frame: Partial<SerialSettings> = {}): SerialSettings => ({
  ...{ baudRate, dataBits: 8, parity: 'none', stopBits: 1, ...frame },
})

type Instrument = {
  setting: SerialSettings
  /** What it sends in a while by itself. */
  sends?: string
  answers?: (query: string) => string
  /** Whether the lead hands back what is sent. */
  echoes?: true
}

/** The instrument at the far end of a line whose near end may be set otherwise. */
function lineTo({ setting: own, sends = '', answers = () => '', echoes }: Instrument): Line {
  let now = own
  const received = (text: string): Piece[] =>
    text === '' ? [] : [{ atMs: 0, way: 'received', text: heardThrough(text, own, now) }]
  return {
    async set(to) {
      now = to
    },
    listen: async () => received(sends),
    async ask(bytes) {
      const back: Piece[] = echoes ? [{ atMs: 0, way: 'received', text: bytes }] : []
      return [{ atMs: 0, way: 'sent', text: bytes }, ...back, ...received(answers(heardThrough(bytes, now, own)))]
    },
  }
}

async function find(instrument: Instrument) {
  const said: string[] = []
  const [first] = await findLine(lineTo(instrument), drivers, 'the port', (text) => said.push(text))
  return { driver: first!.driver.id, setting: settingText(first!.settings), options: first!.options, said }
}

const talk = Array.from({ length: 12 }, (_, i) => `-0.2${i % 10}${(i * 7) % 10} inH2O\r\n`).join('')
const readings = (word: number) => (query: string) =>
  query === withCrc('\x03\x04\x00\x02\x00\x01')
    ? withCrc(`\x03\x04\x02${String.fromCharCode((word >> 8) & 255, word & 255)}`)
    : query.startsWith('\x03') && withCrc(query.slice(0, -2)) === query
      ? withCrc(`\x03${String.fromCharCode(query.charCodeAt(1) | 0x80)}\x02`)
      : ''

describe('an instrument that sends by itself', () => {
  test.each([300, 1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200])('is found at %i baud', async (baudRate) => {
    const { driver, setting: at } = await find({ setting: setting(baudRate), sends: talk })
    expect({ driver, at }).toEqual({ driver: 'ascii-line', at: `${baudRate} baud 8N1` })
  })

  test.each([
    ['7E1', setting(2400, { dataBits: 7, parity: 'even' })],
    ['7O1', setting(9600, { dataBits: 7, parity: 'odd' })],
    ['7N2', setting(19_200, { dataBits: 7, stopBits: 2 })],
    ['8E1', setting(9600, { parity: 'even' })],
    ['8O1', setting(4800, { parity: 'odd' })],
  ])('is found where it is set to %s', async (frame, own) => {
    const { driver, setting: at } = await find({ setting: own, sends: talk })
    expect({ driver, at }).toEqual({ driver: 'ascii-line', at: `${own.baudRate} baud ${frame}` })
  })

  test('digits that a wrong rate makes of its bytes are not taken for readings', async () => {
    const line = lineTo({ setting: setting(2400), sends: talk })
    // Whole lines among them, as chance makes them: more than a few good frames in a row never come.
    const plausible = '\x00\xfe8.1\r\n8.8\r\n\x9c\x00\xf0\r\n18.8\r\n\xfe\x008\r\n\x86\x18\r\n8.1\r\nx\x00\r\n'
    let baudRate = 0
    const said: string[] = []
    const candidates = await findLine(
      {
        ...line,
        set: (to) => {
          baudRate = to.baudRate
          return line.set(to)
        },
        listen: async (ms) => (baudRate === 9600 ? [{ atMs: 0, way: 'received', text: plausible }] : line.listen(ms)),
      },
      drivers,
      'the port',
      (text) => said.push(text),
    )
    expect(said[0]).toMatch(/^9600 baud 8N1: \d+ bytes that no driver reads$/)
    expect(settingText(candidates[0]!.settings)).toBe('2400 baud 8N1')
  })

  test('a display on HOLD is said, not read', async () => {
    await expect(find({ setting: setting(9600), sends: '0.25 inH2O HOLD\r\n'.repeat(8) })).rejects.toMatchObject({
      code: 'line-held',
      message: expect.stringContaining('the display is on HOLD'),
    })
  })

  test('bytes that no driver reads are shown', async () => {
    await expect(find({ setting: setting(9600), sends: '\x01\x82\x7f\x03\xfe'.repeat(30) })).rejects.toMatchObject({
      code: 'line-unknown',
    })
  })
})

describe('an instrument that has to be asked', () => {
  test('a query is answered, its echo before the answer', async () => {
    const {
      driver,
      setting: at,
      options,
    } = await find({
      setting: setting(19_200),
      echoes: true,
      answers: (query) => (query.trim() === 'MEAS?' ? '+1.25E-01\r\n' : ''),
    })
    expect({ driver, at }).toEqual({ driver: 'scpi-query', at: '19200 baud 8N1' })
    expect(options).toMatchObject({ command: 'MEAS?' })
  })

  test('a letter is answered, of seven bits', async () => {
    const { driver, setting: at } = await find({
      setting: setting(2400, { dataBits: 7, parity: 'even' }),
      answers: (query) => (query.trim() === 'D' ? '+ 0.002 inH2O A\r' : ''),
    })
    expect({ driver, at }).toEqual({ driver: 'sign-value-flags', at: '2400 baud 7E1' })
  })

  test('a register of another slave is found, where the others are refused', async () => {
    const {
      driver,
      setting: at,
      options,
    } = await find({
      setting: setting(19_200, { parity: 'even' }),
      answers: readings(-625),
    })
    expect({ driver, at }).toEqual({ driver: 'modbus-rtu', at: '19200 baud 8E1' })
    expect(options).toMatchObject({ slave: 3, function: '04', register: 2 })
  })

  test('an echo alone is no answer', async () => {
    await expect(find({ setting: setting(9600), echoes: true })).rejects.toMatchObject({ code: 'port-silent' })
  })

  test('silence says what to check', async () => {
    await expect(find({ setting: setting(9600) })).rejects.toMatchObject({
      code: 'port-silent',
      next: expect.stringMatching(/is on.*output.*cable/),
    })
  })
})
