// The contract that every driver meets, found by itself in drivers/: one suite for all, exceptions with their reason.
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { conductCases, shapeCase } from '../../src/contract/driver-contract.ts'
import type { Transcript } from '../../src/contract/transcript.ts'
import { bindDecode, type Driver } from '../../src/driver.ts'

/** Cases that a driver cannot meet: `'id: case': 'reason'`. */
const skips: Readonly<Record<string, string>> = {}

const folder = new URL('../../drivers/', import.meta.url)
const ids = readdirSync(folder)
  .filter((name) => name.endsWith('.ts'))
  .map((name) => name.replace(/\.ts$/, ''))

for (const id of ids) {
  const { driver } = (await import(new URL(`${id}.ts`, folder).href)) as { driver: Driver }
  const { transcripts } = (await import(new URL(`${id}.transcript.ts`, import.meta.url).href)) as {
    transcripts: readonly Transcript[]
  }
  const source = readFileSync(new URL(`${id}.ts`, folder), 'utf8')
  const subject = { driver, name: id, source, taken: [], mayImport: ['../src/'], transcripts }

  describe(id, () => {
    test('has a transcript', () => {
      expect(transcripts).not.toEqual([])
    })

    for (const { name, fault } of [shapeCase(subject), ...conductCases(subject)]) {
      const reason = skips[`${id}: ${name}`]
      test.skipIf(reason !== undefined)(reason === undefined ? name : `${name} (not met: ${reason})`, () => {
        expect(fault()).toBeNull()
      })
    }
  })
}

test('each skip names a driver that is there', () => {
  for (const key of Object.keys(skips)) expect(ids).toContain(key.split(':')[0])
})

function thrower(what: unknown): never {
  throw what
}

describe('a decoder bound to its options', () => {
  const base: Driver = {
    id: 'test-line',
    title: 'test',
    serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
    options: {},
    channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
    wire: () => ({ framing: { kind: 'bytes' }, start: null, poll: [], maxFrameBytes: 100 }),
    decode: () => ({ readings: [], faults: [], memory: null }),
  }

  test('makes the text of a fault safe to show', () => {
    const text = `\x1b[2J${'x'.repeat(100)}`
    const decode = bindDecode(
      { ...base, decode: () => ({ readings: [], faults: [{ code: 'held', text }], memory: 1 }) },
      {},
      'meter',
    )
    expect(decode(null, '', 'received')).toEqual({
      readings: [],
      faults: [{ code: 'held', text: `.[2J${'x'.repeat(73)}...` }],
      memory: 1,
    })
  })

  test('is handed what was sent only where it asks for that', () => {
    const decode: Driver['decode'] = (_, chunk, { way }) => ({ readings: [], faults: [], memory: `${way} ${chunk}` })
    const hears = (more: Partial<Driver>) =>
      bindDecode({ ...base, decode, ...more }, {}, 'meter')(1, '?', 'sent').memory
    expect([hears({}), hears({ hearsSent: true })]).toEqual([1, 'sent ?'])
  })

  test('gives no reading of what was sent', () => {
    const reading = { quantity: 'pressure', value: 1, unit: 'Pa', digit: 1, frameBytes: 1 } as const
    const decode = bindDecode(
      { ...base, hearsSent: true, decode: () => ({ readings: [reading], faults: [], memory: null }) },
      {},
      'meter',
    )
    expect(decode(null, 'x', 'received').readings).toEqual([reading])
    expect(decode(null, 'x', 'sent')).toMatchObject({
      readings: [],
      faults: [{ text: 'the driver test-line failed: 1 readings came of what was sent; none may' }],
    })
  })

  test.each<[string, () => never, string]>([
    ['null', () => thrower(null), 'null'],
    ['what has no text', () => thrower({ toString: () => thrower('no') }), 'something that has no text'],
  ])('turns a throw of %s into a fault', (_, decode, text) => {
    expect(bindDecode({ ...base, decode }, {}, 'meter')(1, 'x', 'received').faults).toEqual([
      { code: 'unreadable', text: `the driver test-line failed: ${text}` },
    ])
  })

  test.each<[unknown, string]>([
    [null, 'the result is null; it must be an object of read...'],
    [{ readings: null, faults: [] }, 'readings is null; it must be a list'],
    [{ readings: ['1 Pa'], faults: [] }, 'readings[0] is "1 Pa"; it must be an object'],
    [{ readings: [], faults: [{ code: 'bad', text: '' }] }, 'faults[0].code is "bad"; it must be unreadable o...'],
  ])('turns the result %j into a fault', (result, text) => {
    const decode = () => result as never
    expect(bindDecode({ ...base, decode }, {}, 'meter')(1, 'x', 'received')).toEqual({
      readings: [],
      faults: [{ code: 'unreadable', text: `the driver test-line failed: ${text}` }],
      memory: null,
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
    expect(decode(1, 'x', 'received')).toEqual({
      readings: [],
      faults: [{ code: 'unreadable', text: 'the driver test-line failed: no . good' }],
      memory: null,
    })
  })
})
