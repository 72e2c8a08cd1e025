// The contract that every driver meets, found by itself in drivers/: one suite for all, exceptions with their reason.
import { readdirSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Fault, Reading } from '../../src/core/model/reading.ts'
import { bindDecode, checkDriver, type Driver, type Options, type Role, resolveOptions } from '../../src/driver.ts'
import type { Transcript } from './transcript.ts'

/** Cases that a driver cannot meet: `'id: case': 'reason'`. */
const skips: Readonly<Record<string, string>> = {}

const folder = new URL('../../drivers/', import.meta.url)
const ids = readdirSync(folder).map((name) => name.replace(/\.ts$/, ''))
const roles: readonly Role[] = ['manometer', 'meter', 'bridge']

type Run = { readings: Reading[]; faults: Fault[]; memory: unknown }

/** What `driver` makes of the pieces; it is called itself, not through a guard, so that one that throws is seen. */
function run(driver: Driver, role: Role, given: Options, pieces: Iterable<string>): Run {
  const options = resolveOptions(driver, given)
  const result: Run = { readings: [], faults: [], memory: null }
  for (const piece of pieces) {
    const { readings, faults, memory } = driver.decode(result.memory, piece, { options, role })
    result.readings.push(...readings)
    result.faults.push(...faults)
    result.memory = memory
  }
  return result
}

/** Pseudo-random whole numbers below `limit` from a fixed seed: a linear congruential generator modulo 2^32. */
function createDice(seed: number): (limit: number) => number {
  let state = seed
  return (limit) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.floor((state / 2 ** 32) * limit)
  }
}

function cutAtRandom(bytes: string, dice: (limit: number) => number): string[] {
  const pieces: string[] = []
  for (let at = 0; at < bytes.length; ) {
    const length = dice(12)
    pieces.push(bytes.slice(at, at + length))
    at += length
  }
  return pieces
}

const safe = /^[ -~]{1,80}$/
/** Longest JSON that a memory may take: two frames, where each byte may be written as a six-character escape, and a few fields. */
const memoryLimit = (maxFrameBytes: number) => 12 * maxFrameBytes + 400

for (const id of ids) {
  const { driver } = (await import(new URL(`${id}.ts`, folder).href)) as { driver: Driver }
  const { transcripts } = (await import(new URL(`${id}.transcript.ts`, import.meta.url).href)) as {
    transcripts: readonly Transcript[]
  }
  const defaults = resolveOptions(driver, {})
  const wire = driver.wire(defaults)
  const meets = (name: string, check: () => void) => {
    const reason = skips[`${id}: ${name}`]
    test.skipIf(reason !== undefined)(reason === undefined ? name : `${name} (not met: ${reason})`, check)
  }

  describe(id, () => {
    meets('has its file name as id and nothing wrong in its shape', () => {
      expect(driver.id).toBe(id)
      expect(checkDriver(driver)).toEqual([])
    })

    meets('has a transcript with at least one reading of each quantity it offers', () => {
      const seen = new Set(transcripts.flatMap(({ readings }) => readings.map(({ quantity }) => quantity)))
      expect(seen).toEqual(new Set(driver.channels.map(({ quantity }) => quantity)))
    })

    for (const { name, role, options = {}, bytes, readings, faults } of transcripts) {
      meets(`reads the transcript: ${name}`, () => {
        const found = run(driver, role, options, [bytes])
        expect(found.readings.map(({ value, digit, ...rest }) => rest)).toEqual(
          readings.map(({ value, digit, ...rest }) => rest),
        )
        for (const [index, reading] of readings.entries()) {
          const { value, digit } = found.readings[index] ?? { value: 0, digit: 0 }
          expectClose(value, reading.value)
          if (reading.digit === null) expect(digit).toBeNull()
          else expectClose(digit ?? Number.NaN, reading.digit)
        }
        expect(found.faults).toEqual(faults.map(({ code, text }) => ({ code, text: expect.stringContaining(text) })))
        for (const fault of found.faults) expect(fault.text).toMatch(safe)
      })

      meets(`gives the same however the bytes are cut: ${name}`, () => {
        const whole = run(driver, role, options, [bytes])
        for (let at = 0; at <= bytes.length; at++)
          expect(run(driver, role, options, [bytes.slice(0, at), bytes.slice(at)])).toEqual(whole)
        expect(run(driver, role, options, bytes)).toEqual(whole)
        const dice = createDice(bytes.length)
        for (let trial = 0; trial < 50; trial++)
          expect(run(driver, role, options, cutAtRandom(bytes, dice))).toEqual(whole)
      })
    }

    meets('never throws on noise, gives safe faults and keeps a bounded memory', () => {
      const dice = createDice(20_240_501)
      const alphabets = ['\x00\x7f\x80\xff\r\n\x1b[0;', '-+.,0123456789eE OLinH2kPa\r\n', '"\'\xce\xa9:=/%.\n OLREin2']
      for (const role of roles)
        for (let trial = 0; trial < 300; trial++) {
          const alphabet = alphabets[trial % (alphabets.length + 1)]
          const piece = () => {
            const code = alphabet === undefined ? dice(256) : alphabet.charCodeAt(dice(alphabet.length))
            return String.fromCharCode(code)
          }
          const pieces = Array.from({ length: 20 }, () => Array.from({ length: dice(60) }, piece).join(''))
          const { faults, readings, memory } = run(driver, role, {}, pieces)
          for (const fault of faults) expect(fault.text).toMatch(safe)
          for (const { frameBytes } of readings) expect(frameBytes).toBeLessThanOrEqual(wire.maxFrameBytes)
          expect(JSON.stringify(memory).length).toBeLessThan(memoryLimit(wire.maxFrameBytes))
        }
    })

    meets('says that a megabyte without an end is too long, once, and keeps a bounded memory', () => {
      for (const byte of ['0', '-', 'i', '\x00', '\xff', '\x1b', ' ', '"']) {
        const { readings, faults, memory } = run(driver, 'manometer', {}, [byte.repeat(1_000_000), byte])
        expect(readings).toEqual([])
        expect(faults.map(({ code }) => code)).toEqual(['overlong'])
        expect(JSON.stringify(memory).length).toBeLessThan(memoryLimit(wire.maxFrameBytes))
      }
    })

    meets('leaves time on the wire for a query and its longest reply', () => {
      if (wire.poll === null) return expect(wire.poll).toBeNull()
      const { dataBits, parity, stopBits, baudRate } = driver.serial
      const bitsPerByte = 1 + dataBits + (parity === 'none' ? 0 : 1) + stopBits
      const longest = Math.max(...transcripts.flatMap(({ readings }) => readings.map(({ frameBytes }) => frameBytes)))
      const wireMs = ((wire.poll.bytes.length + longest) * bitsPerByte * 1000) / baudRate
      expect(wire.poll.periodMs).toBeGreaterThanOrEqual(wireMs)
      expect(wire.poll.replyMs).toBeGreaterThanOrEqual(wireMs)
    })

    meets(
      'reads no clock, sets no timer, draws no number at random and imports nothing but its own project',
      async () => {
        const { readFile } = await import('node:fs/promises')
        const source = await readFile(new URL(`${id}.ts`, folder), 'utf8')
        expect(source).not.toMatch(/\b(Date|performance|setTimeout|setInterval|random|await|console|process)\b/)
        for (const [, from] of source.matchAll(/from '([^']+)'/g)) expect(from).toMatch(/^\.\.\/src\//)
      },
    )
  })
}

function expectClose(found: number, stated: number): void {
  if (Number.isFinite(stated) && stated !== 0)
    expect(Math.abs(found - stated)).toBeLessThanOrEqual(1e-12 * Math.abs(stated))
  else expect(found).toBe(stated)
}

test('each skip names a driver that is there', () => {
  for (const key of Object.keys(skips)) expect(ids).toContain(key.split(':')[0])
})

describe('a decoder bound to its options', () => {
  const base: Driver = {
    id: 'test-line',
    title: 'test',
    serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
    options: {},
    channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
    wire: () => ({ framing: { kind: 'bytes' }, start: null, poll: null, maxFrameBytes: 100 }),
    decode: () => ({ readings: [], faults: [], memory: null }),
  }

  test('makes the text of a fault safe to show', () => {
    const text = `\x1b[2J${'x'.repeat(100)}`
    const decode = bindDecode(
      { ...base, decode: () => ({ readings: [], faults: [{ code: 'held', text }], memory: 1 }) },
      {},
      'meter',
    )
    expect(decode(null, '')).toEqual({
      readings: [],
      faults: [{ code: 'held', text: `.[2J${'x'.repeat(73)}...` }],
      memory: 1,
    })
  })

  test('turns an exception of a driver into a fault', () => {
    const decode = bindDecode(
      {
        ...base,
        decode: () => {
          throw new Error('no \x1b good')
        },
      },
      {},
      'meter',
    )
    expect(decode(1, 'x')).toEqual({
      readings: [],
      faults: [{ code: 'unreadable', text: 'the driver test-line failed: Error: no . good' }],
      memory: null,
    })
  })
})
