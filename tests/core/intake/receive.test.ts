import { describe, expect, test } from 'vitest'
import { ask, initialPort, receive, relink } from '../../../src/core/intake/receive.ts'
import type { Decode, Reading } from '../../../src/core/model/reading.ts'
import type { RigPort } from '../../../src/core/model/rig.ts'

const reading: Reading = { quantity: 'pressure', value: -60, unit: 'Pa', digit: 0.1, frameBytes: 10 }
const gives =
  (...readings: Reading[]): Decode =>
  (memory) => ({ readings, faults: [], memory: memory === null ? 1 : Number(memory) + 1 })

const portOf = (port: RigPort['port'], decode: Decode = gives(reading)) =>
  initialPort('manometer', { driver: 'ascii-line', port }, decode)

describe('A reading is dated back by its time on the wire: characters × bits / baud', () => {
  // One start bit, the data bits, a parity bit where there is one, the stop bits.
  test.each<[string, RigPort['port'], number]>([
    ['8N1 at 9 600', { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 }, 10],
    ['7E1 at 9 600', { baudRate: 9600, dataBits: 7, parity: 'even', stopBits: 1 }, 10],
    ['8E1 at 1 200', { baudRate: 1200, dataBits: 8, parity: 'even', stopBits: 1 }, 11],
    ['8N2 at 300', { baudRate: 300, dataBits: 8, parity: 'none', stopBits: 2 }, 11],
    ['8O2 at 2 400', { baudRate: 2400, dataBits: 8, parity: 'odd', stopBits: 2 }, 12],
    ['8N1 where only the baud rate is stated', { baudRate: 19_200 }, 10],
  ])('%s', (_, port, bits) => {
    const { readings } = receive(portOf(port), 1_000_000, 'x')
    expect(readings[0]!.tUs).toBeCloseTo(1_000_000 - (10 * bits * 1e6) / port!.baudRate!, 6)
  })

  test('and where the rig states no baud rate nothing is taken off', () => {
    expect(receive(portOf(undefined), 1_000_000, 'x').readings[0]!.tUs).toBe(1_000_000)
    expect(receive(portOf({ path: 'COM3' }), 1_000_000, 'x').readings[0]!.tUs).toBe(1_000_000)
  })

  test('each by its own frame, and none later than a line that came behind it in one chunk', () => {
    const port = portOf({ baudRate: 1000, dataBits: 8 }, gives({ ...reading, frameBytes: 20 }, reading))
    expect(receive(port, 1_000_000, 'x').readings.map((r) => r.tUs)).toEqual([800_000, 900_000])
    const longLast = portOf({ baudRate: 1000, dataBits: 8 }, gives(reading, { ...reading, frameBytes: 20 }))
    expect(receive(longLast, 1_000_000, 'x').readings.map((r) => r.tUs)).toEqual([800_000, 800_000])
  })

  test('and none earlier than a line that came before it, also where both arrive at once', () => {
    const first = receive(portOf({ baudRate: 1000, dataBits: 8 }), 1_000_000, 'x')
    const long = { ...first.port, decode: gives({ ...reading, frameBytes: 20 }) }
    const second = receive(long, 1_000_000, 'x')
    expect([first, second].map(({ readings }) => readings[0]!.tUs)).toEqual([900_000, 900_000])
    expect(receive(relink(second.port, 'back'), 1_000_001, 'x').readings[0]!.tUs).toBe(900_000)
  })
})

test('The first change of the pressure unit is kept, a resistance is no change, and over-range is none either.', () => {
  const after = (port: ReturnType<typeof portOf>, tUs: number, next: Reading) =>
    receive({ ...port, decode: gives(next) }, tUs, 'x').port
  let port = after(portOf(undefined), 1, reading)
  port = after(port, 2, { ...reading, quantity: 'resistance', unit: 'ohm' })
  port = after(port, 3, { ...reading, value: Number.POSITIVE_INFINITY })
  expect(port.unitChangedUs).toBeNull()
  port = after(port, 4, { ...reading, unit: 'mmH2O' })
  port = after(port, 5, { ...reading, unit: 'Pa' })
  expect(port.unitChangedUs).toBe(4)
})

test('What was sent reaches the decoder, whose memory and faults are kept; it answers no query.', () => {
  const telling: Decode = (memory, chunk, way) => ({
    readings: [],
    faults: [{ code: 'unreadable', text: `${way} ${chunk} after ${memory}` }],
    memory: chunk,
  })
  const asked = ask(portOf(undefined, telling), 5, 'Q')
  expect(asked).toMatchObject({ memory: 'Q', faults: 1, answered: false, askedUs: 5, waitingUs: 5, lines: 0 })
  expect(receive(asked, 6, 'A').port.lastFault?.text).toBe('received A after Q')
})

test('Faults are counted by kind, the last one is kept, and they give no reading.', () => {
  const faulty: Decode = () => ({
    readings: [],
    faults: [
      { code: 'held', text: 'on HOLD' },
      { code: 'unreadable', text: 'noise' },
    ],
    memory: null,
  })
  const once = receive(portOf(undefined, faulty), 1, 'x')
  const { port, readings } = receive(once.port, 2, 'x')
  expect(readings).toEqual([])
  expect(port).toMatchObject({ faults: 4, faultCounts: { held: 2, unreadable: 2 }, lastFault: { text: 'noise' } })
  expect(port.recentUs).toEqual([])
})

test('What is no number is no sign of life, over-range is one.', () => {
  const after = (value: number) => receive(portOf(undefined, gives({ ...reading, value })), 1, 'x').port.recentUs
  expect(after(Number.NaN)).toEqual([])
  expect(after(Number.POSITIVE_INFINITY)).toEqual([1])
  expect(after(-60)).toEqual([1])
})

test('A cable that comes back starts without the bytes of before; the port is open from the first byte on.', () => {
  const waiting = portOf(undefined)
  expect(waiting.link).toBe('waiting')
  const { port } = receive(waiting, 1, 'x')
  expect(port).toMatchObject({ link: 'open', memory: 1, recentUs: [1] })
  const lost = relink(port, 'lost')
  expect(lost).toMatchObject({ link: 'lost', memory: null, recentUs: [] })
  expect(relink(lost, 'back').link).toBe('open')
})
