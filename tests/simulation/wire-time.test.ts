import { expect, test } from 'vitest'
import { createSpells } from '../../src/simulation/spells.ts'
import { type CableTruth, characterUs, createSerialLine } from '../../src/simulation/wire-time.ts'

const port = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const

function make(cables: CableTruth[] = []) {
  const spells = createSpells(cables)
  spells.strokeStarted(1, 0)
  return createSerialLine(port, spells)
}
const off = (midLine: boolean): CableTruth => ({ port: 'manometer', stroke: 1, afterS: 1, forS: 1, midLine })

// Start bit + data bits + parity bit + stop bits: 10 bits at 9 600 baud are 1.0417 ms, 11 bits at 300 baud 36.67 ms.
test('A character takes its bits over the baud rate; a port without a rate takes no time.', () => {
  expect(characterUs(port)).toBeCloseTo(1041.67, 2)
  expect(characterUs({ baudRate: 300, dataBits: 7, parity: 'even', stopBits: 2 })).toBeCloseTo(36_666.67, 2)
  expect(characterUs(undefined)).toBe(0)
})

test('A line arrives with its last character, and the next one waits until the wire is free.', () => {
  const line = make()
  expect(line.send({ readyUs: 0, bytes: '0123456789' })?.timeUs).toBe(10_417)
  expect(line.send({ readyUs: 5000, bytes: '0123456789' })?.timeUs).toBe(20_833)
  expect(line.receive('READ?\n', 30_000)).toBe(36_250)
})

test('While a cable is off nothing arrives and no query gets through.', () => {
  const line = make([off(false)])
  expect(line.send({ readyUs: 995_000, bytes: '0123456789' })).toBeNull()
  expect(line.send({ readyUs: 1_500_000, bytes: '0123456789' })).toBeNull()
  expect(line.receive('READ?\n', 1_500_000)).toBeNull()
  expect(line.send({ readyUs: 2_000_000, bytes: '0123456789' })?.bytes).toBe('0123456789')
})

test('A cable that comes off in mid-line leaves what had arrived, and the rest of a line when it is back.', () => {
  const line = make([off(true)])
  // 4 of 10 characters are through after 4.8 character times.
  expect(line.send({ readyUs: 995_000, bytes: '0123456789' })).toEqual({ timeUs: 999_167, bytes: '0123' })
  expect(line.send({ readyUs: 1_995_000, bytes: '0123456789' })).toEqual({ timeUs: 2_005_417, bytes: '56789' })
})
