// What is wrong with a driver, and with the options a rig gives it, in words that name value and limit.
import { describe, expect, test } from 'vitest'
import { checkDriver, resolveOptions, roundMs, wireOf } from '../src/driver.ts'
import { Problem } from '../src/errors.ts'
import { sampleDriver as good } from './harness/sample-driver.ts'

describe('checkDriver', () => {
  test('finds nothing wrong with a whole driver', () => {
    expect(checkDriver(good)).toEqual([])
  })

  const wire = good.wire({})
  test.each<[string, unknown, RegExp]>([
    ['nothing at all', undefined, /exports no "driver"/],
    ['a number', 3, /expected object/],
    ['an id with capitals', { ...good, id: 'Test Line' }, /^id: must be lower-case words/],
    ['no decode', { ...good, decode: undefined }, /^decode: must be a function/],
    ['nine data bits', { ...good, serial: { ...good.serial, dataBits: 9 } }, /^serial.dataBits/],
    [
      'a default outside its range',
      { ...good, options: { x: { kind: 'number', min: 1, max: 2, default: 3, help: '' } } },
      /^options.x.*outside min and max/,
    ],
    [
      'a default that is no choice',
      { ...good, options: { x: { kind: 'choice', values: ['a'], default: 'b', help: '' } } },
      /^options.x.*not one of its values/,
    ],
    ['a command beyond latin1', { ...good, wire: () => ({ ...wire, start: 'Ω' }) }, /^wire\(\): start.*latin1/],
    [
      'a poll without a period',
      { ...good, wire: () => ({ ...wire, poll: { bytes: 'a', replyMs: 1, quietMs: 0 } }) },
      /^wire\(\): poll\.0\.periodMs/,
    ],
    ['a decode without faults', { ...good, decode: () => ({ readings: [], memory: null }) }, /^decode\(\): faults/],
    [
      'a decode that throws',
      {
        ...good,
        decode: () => {
          throw new Error('broken')
        },
      },
      /threw: broken/,
    ],
  ])('says what is wrong with %s', (_, value, wanted) => {
    expect(checkDriver(value)[0]).toMatch(wanted)
  })
})

describe('wireOf', () => {
  const wire = good.wire({})
  const query = { bytes: 'a', periodMs: 20, replyMs: 1, quietMs: 0 }
  const polled = (poll: unknown) => wireOf({ ...good, wire: () => ({ ...wire, poll: poll as [] }) }, {})

  test('reads one query, or null for none, as a list: so drivers say it that are older than the list', () => {
    expect([polled(null).poll, polled(query).poll, polled([query, query]).poll]).toEqual([[], [query], [query, query]])
  })

  test('gives queries in turn, whose round takes the sum of their periods', () => {
    expect([polled([]), polled([query]), polled([query, query, query])].map(roundMs)).toEqual([null, 20, 60])
  })
})

describe('resolveOptions', () => {
  const problem = (given: Record<string, string | number>) => {
    try {
      resolveOptions(good, given)
    } catch (error) {
      return error
    }
    throw new Error('no problem was found')
  }

  test('fills in what is not given', () => {
    expect(resolveOptions(good, { unit: 'kPa' })).toEqual({ unit: 'kPa', intervalMs: 200, command: 'READ?' })
    expect(resolveOptions(good, null)).toEqual({ unit: 'Pa', intervalMs: 200, command: 'READ?' })
  })

  test.each<[Record<string, string | number>, string]>([
    [{ speed: 3 }, 'The driver "test-line" has no option "speed"; it has unit, intervalMs, command.'],
    [{ unit: 'bar' }, 'Option "unit" of the driver "test-line" is "bar"; it must be one of Pa, kPa.'],
    [{ intervalMs: 5 }, 'Option "intervalMs" of the driver "test-line" is 5; it must be a number from 20 to 1000 ms.'],
    [
      { intervalMs: '200' },
      'Option "intervalMs" of the driver "test-line" is "200"; it must be a number from 20 to 1000 ms.',
    ],
    [
      { command: 'A\nB' },
      'Option "command" of the driver "test-line" is "A.B"; it must be a text of at most 200 printable ASCII characters.',
    ],
    [
      { command: 3 },
      'Option "command" of the driver "test-line" is 3; it must be a text of at most 200 printable ASCII characters.',
    ],
  ])('names what is wrong with %j and what it must be', (given, text) => {
    const found = problem(given)
    expect(found).toBeInstanceOf(Problem)
    expect(found).toMatchObject({ code: 'rig-invalid', message: text })
  })

  test('ignores an unknown option in a recording, but not a wrong value', () => {
    expect(resolveOptions(good, { speed: 3 }, 'recording')).toEqual({ unit: 'Pa', intervalMs: 200, command: 'READ?' })
    expect(() => resolveOptions(good, { unit: 'bar' }, 'recording')).toThrow(Problem)
  })
})
