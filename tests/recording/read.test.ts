import { randomInt } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { changedLineEnd, type RecordedEvent } from '../../src/core/model/event.ts'
import { Problem } from '../../src/errors.ts'
import { createRecording } from '../../src/recording/append.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { createReader } from '../../src/recording/read.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const startLine = encodeLine({ type: 'start', format: 1, ...sampleStart })

/** Events of `bytes`, handed over in pieces of `size`. */
function read(bytes: Buffer, size = bytes.length): RecordedEvent[] {
  const reader = createReader()
  const events: RecordedEvent[] = []
  for (let from = 0; from < bytes.length; from += size) events.push(...reader.push(bytes.subarray(from, from + size)))
  return [...events, ...reader.finish()]
}
const problemCode = (bytes: Buffer): string | null => {
  try {
    read(bytes)
    return null
  } catch (error) {
    if (error instanceof Problem) return error.code
    throw error
  }
}
const file = (...events: object[]): Buffer => Buffer.concat([startLine, ...events.map(encodeLine)])

function writeSmall(name: string): Buffer {
  const path = join(folder, name)
  const recorder = createRecording(path, sampleStart)
  recorder.append({ type: 'link', t: 100, port: 'manometer', state: 'open' })
  recorder.append({ type: 'mark', t: 200, mark: 'zero', by: 'flow' })
  recorder.appendBytes('rx', 300, 'manometer', Buffer.from('0.01 Pa\r\n'))
  recorder.appendBytes('rx', 400, 'meter', Buffer.from([0x10, 0x80, 0x0a]))
  recorder.seal(450)
  recorder.append({ type: 'tick', t: 500 })
  recorder.append({ type: 'end', t: 600, reason: 'finished' })
  recorder.append({ type: 'verdict', t: 600, result: { verdict: 'undecided' } })
  recorder.seal(700)
  recorder.close()
  return readFileSync(path)
}
const small = writeSmall('small.run')
const events = read(small)

test('a whole recording has no damage and every seal matches', () => {
  expect(events.map((event) => event.type)).toEqual('start link mark rx rx seal tick end verdict seal'.split(' '))
  expect(events.filter((event) => event.type === 'seal').map((seal) => seal.matches)).toEqual([true, true])
})

test('how the bytes are cut changes nothing', () => {
  const damaged = Buffer.concat([small, Buffer.from('no line\n'), Buffer.alloc(70_000, 'x'), Buffer.from('\n1c29')])
  for (const bytes of [small, damaged]) {
    const whole = read(bytes)
    for (const size of bytes === small ? [1, 2, 3, 7, 64, 1000] : [977, 65_535, 65_536, 65_537])
      expect(read(bytes, size)).toEqual(whole)
  }
  for (let at = 0; at <= small.length; at++) {
    const reader = createReader()
    const pieces = [...reader.push(small.subarray(0, at)), ...reader.push(small.subarray(at)), ...reader.finish()]
    expect(pieces).toEqual(events)
  }
  const reader = createReader()
  const pieces: RecordedEvent[] = []
  for (let from = 0; from < small.length; ) {
    const size = randomInt(1, 200)
    pieces.push(...reader.push(small.subarray(from, from + size)))
    from += size
  }
  expect([...pieces, ...reader.finish()]).toEqual(events)
})

test('a reader keeps no hold on the buffer it was handed', () => {
  const reader = createReader()
  const buffer = Buffer.alloc(100)
  const found: RecordedEvent[] = []
  for (let from = 0; from < small.length; from += buffer.length) {
    const length = small.copy(buffer, 0, from, from + buffer.length)
    found.push(...reader.push(buffer.subarray(0, length)))
    buffer.fill(0xff)
  }
  expect([...found, ...reader.finish()]).toEqual(events)
})

test('every truncation opens: the whole lines are read and what is torn is said', () => {
  const ends = [...small.keys()].filter((i) => small[i] === 10)
  for (let length = startLine.length; length <= small.length; length++) {
    const whole = ends.filter((end) => end < length)
    const torn = length - (whole.at(-1)! + 1)
    expect(read(small.subarray(0, length))).toEqual([
      ...events.slice(0, whole.length),
      ...(torn > 0 ? [{ type: 'torn', bytes: torn }] : []),
    ])
  }
  for (let length = 0; length < startLine.length; length++)
    expect(problemCode(small.subarray(0, length))).toBe('recording-empty')
})

test('every flipped bit before the last line is named by its line, or by the two that it joins or parts', () => {
  const last = small.lastIndexOf(10, small.length - 2) + 1
  let line = 1
  let offset = 0
  for (let i = 0; i < last; i++) {
    for (let bit = 0; bit < 8; bit++) {
      const flipped = Buffer.from(small)
      flipped[i] = flipped[i]! ^ (1 << bit)
      const corrupt = read(flipped).filter((event) => event.type === 'corrupt')
      expect(corrupt[0], `bit ${bit} of byte ${i}`).toMatchObject({ line, offset })
    }
    if (small[i] === 10) {
      line++
      offset = i + 1
    }
  }
})

test('a seal notices bytes that are gone although every line is whole', () => {
  const lines = small.toString('latin1').split('\n')
  const without = (n: number) => Buffer.from(lines.filter((_, i) => i !== n).join('\n'), 'latin1')
  const seals = read(without(3)).filter((event) => event.type === 'seal')
  expect(seals.map((seal) => seal.matches)).toEqual([false, false])
  expect(
    read(without(6))
      .filter((event) => event.type === 'seal')
      .map((seal) => seal.matches),
  ).toEqual([true, false])
})

test('a seal notices a line that was replaced by another whole one', () => {
  const forged = small
    .toString('latin1')
    .replace(/^.{9}\{"type":"tick","t":500\}$/m, encodeLine({ type: 'tick', t: 501 }).toString('latin1').trimEnd())
  expect(read(Buffer.from(forged, 'latin1')).filter((event) => event.type === 'corrupt')).toEqual([])
  expect(read(Buffer.from(forged, 'latin1')).at(-1)).toMatchObject({ type: 'seal', matches: false })
})

test('a damaged line is named by number, offset and reason, and reading goes on', () => {
  const bytes = file(
    { type: 'tick', t: 10 },
    { type: 'tick', t: 9 },
    { type: 'novelty', t: 11 },
    { type: 'tick', t: 1.5 },
    { type: 'rx', t: 12, port: 'meter' },
    { type: 'rx', t: 12, port: 'meter', text: 'a', b64: 'YQ==' },
    { type: 'start', format: 1, ...sampleStart },
    { type: 'tick', t: 12 },
  )
  const found = read(bytes)
  expect(found.map((event) => event.type)).toEqual(['start', 'tick', ...Array(6).fill('corrupt'), 'tick'])
  expect(found[2]).toEqual({
    type: 'corrupt',
    line: 3,
    offset: file({ type: 'tick', t: 10 }).length,
    why: 't 9 us is less than 10 us before it',
  })
  expect(found[7]).toMatchObject({ line: 8, why: 'a second start' })
})

test('a line that is whole but for its end says so, and is damaged all the same', () => {
  const changed = Buffer.from(small.toString('latin1').replaceAll('\n', '\r\n'), 'latin1')
  const found = read(changed)
  expect(found.map((event) => event.type)).toEqual(Array(events.length).fill('corrupt'))
  expect(found.map((event) => event.type === 'corrupt' && event.why)).toEqual(Array(events.length).fill(changedLineEnd))
  const flipped = Buffer.from(changed)
  flipped[30]! ^= 1
  expect(read(flipped)[0]).toMatchObject({ line: 1, why: 'CRC does not match' })
})

test('a recording whose first line is a whole event but no start says so', () => {
  const bytes = Buffer.concat([encodeLine({ type: 'tick', t: 1 }), encodeLine({ type: 'tick', t: 2 })])
  expect(read(bytes)).toMatchObject([
    { type: 'corrupt', line: 1, why: 'the first line is not a start' },
    { type: 'tick' },
  ])
})

test('unknown keys are kept', () => {
  expect(read(file({ type: 'tick', t: 1, note: 'kept' }))[1]).toEqual({ type: 'tick', t: 1, note: 'kept' })
})

test('a line without end is one corrupt line, or torn, and memory stays within one line', () => {
  const flood = Buffer.alloc(1 << 16, 'x')
  const reader = createReader()
  reader.push(startLine)
  const before = process.memoryUsage().arrayBuffers
  for (let i = 0; i < 500; i++) expect(reader.push(flood)).toEqual([])
  expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(16_000_000)
  expect(reader.push(Buffer.concat([Buffer.from('\n'), encodeLine({ type: 'tick', t: 1 })]))).toMatchObject([
    { type: 'corrupt', line: 2, offset: startLine.length, why: 'longer than 65536 bytes' },
    { type: 'tick' },
  ])
  reader.push(flood)
  reader.push(flood)
  expect(reader.finish()).toEqual([{ type: 'torn', bytes: 2 << 16 }])
})

test('files that are no recording are refused in words of their own', () => {
  expect(problemCode(Buffer.alloc(0))).toBe('recording-empty')
  expect(problemCode(Buffer.from('time,pressure\n0,1\n'))).toBe('recording-foreign')
  expect(problemCode(Buffer.from('{"model":"DP-62"}'))).toBe('recording-foreign')
  expect(problemCode(Buffer.from('\n\n\n'))).toBe('recording-foreign')
  expect(problemCode(Buffer.alloc(1 << 20))).toBe('recording-foreign')
  expect(problemCode(encodeLine({ type: 'start', format: 2, anything: true }))).toBe('recording-newer')
})
