import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { eventBytes, type RecordedEvent } from '../../src/core/model/event.ts'
import { Problem } from '../../src/errors.ts'
import { createRecording } from '../../src/recording/append.ts'
import { createReader } from '../../src/recording/read.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const read = (path: string): RecordedEvent[] => {
  const reader = createReader()
  return [...reader.push(readFileSync(path)), ...reader.finish()]
}
const problemOf = (act: () => unknown): Problem => {
  try {
    act()
  } catch (error) {
    if (error instanceof Problem) return error
    throw error
  }
  throw new Error('nothing was thrown')
}

test('what was appended is read back, byte for byte, under a seal that matches', () => {
  const path = join(folder, 'round.run')
  const recorder = createRecording(path, sampleStart)
  const every = Buffer.from(Array.from({ length: 256 }, (_, i) => i))
  recorder.append({ type: 'link', t: 10, port: 'manometer', state: 'open' })
  recorder.appendBytes('rx', 20, 'manometer', Buffer.from('-12.4 Pa\r\n'))
  recorder.appendBytes('rx', 20, 'manometer', every)
  recorder.appendBytes('tx', 30, 'meter', Buffer.from('READ?\n'))
  recorder.seal(30)
  recorder.append({ type: 'mark', t: 40, mark: 'note', by: 'operator', text: 'Ω ± "quoted" \u0000 end' })
  recorder.append({ type: 'end', t: 50, reason: 'finished' })
  recorder.append({ type: 'verdict', t: 50, result: { verdict: 'pass' } })
  recorder.seal(60)
  recorder.close()

  const events = read(path)
  expect(events[0]).toMatchObject({ type: 'start', format: 1, ...sampleStart })
  expect(events.slice(1)).toEqual([
    { type: 'link', t: 10, port: 'manometer', state: 'open' },
    { type: 'rx', t: 20, port: 'manometer', text: '-12.4 Pa\r\n' },
    { type: 'rx', t: 20, port: 'manometer', b64: every.toString('base64') },
    { type: 'tx', t: 30, port: 'meter', text: 'READ?\n' },
    { type: 'seal', t: 30, lines: 5, sha256: expect.any(String), matches: true },
    { type: 'mark', t: 40, mark: 'note', by: 'operator', text: 'Ω ± "quoted" \u0000 end' },
    { type: 'end', t: 50, reason: 'finished' },
    { type: 'verdict', t: 50, result: { verdict: 'pass' } },
    { type: 'seal', t: 60, lines: 9, sha256: expect.any(String), matches: true },
  ])
  const bytes = readFileSync(path)
  const lastLine = bytes.lastIndexOf(10, bytes.length - 2) + 1
  expect(events.at(-1)).toHaveProperty('sha256', createHash('sha256').update(bytes.subarray(0, lastLine)).digest('hex'))
})

test('a piece of any length is split over lines of at most 64 KiB and no byte is lost', () => {
  const path = join(folder, 'long.run')
  const recorder = createRecording(path, sampleStart)
  const flood = Buffer.from(Array.from({ length: 100_000 }, (_, i) => (i * 7) % 256))
  recorder.appendBytes('rx', 1, 'meter', flood)
  recorder.appendBytes('rx', 2, 'meter', Buffer.alloc(50_000, '"'))
  recorder.appendBytes('rx', 3, 'meter', Buffer.alloc(0))
  recorder.close()
  const text = readFileSync(path, 'latin1')
  expect(Math.max(...text.split('\n').map((line) => line.length + 1))).toBeLessThanOrEqual(65_536)
  const bytes = read(path).map((event) => (event.type === 'rx' ? eventBytes(event) : ''))
  expect(bytes.join('')).toBe(flood.toString('latin1') + '"'.repeat(50_000))
})

test('an event longer than one line is refused and the file stays whole', () => {
  const path = join(folder, 'too-long.run')
  const recorder = createRecording(path, sampleStart)
  const note = { type: 'mark', t: 1, mark: 'note', text: 'x'.repeat(70_000) } as const
  expect(recorder.fits(note)).toBe(false)
  expect(problemOf(() => recorder.append(note)).code).toBe('line-too-long')
  recorder.append({ type: 'tick', t: 2 })
  recorder.close()
  expect(read(path).map((event) => event.type)).toEqual(['start', 'tick'])
})

test('an existing file is never written over', () => {
  const path = join(folder, 'there.run')
  writeFileSync(path, 'precious')
  expect(problemOf(() => createRecording(path, sampleStart)).code).toBe('recording-exists')
  expect(readFileSync(path, 'utf8')).toBe('precious')
})

test('a folder that is not there is one sentence', () => {
  const path = join(folder, 'nowhere', 'x.run')
  const problem = problemOf(() => createRecording(path, sampleStart))
  expect(problem).toMatchObject({ code: 'folder-missing', exitCode: 72 })
  expect(problem.message).toContain(path)
})

test('time that runs backwards is a mistake of the caller', () => {
  const recorder = createRecording(join(folder, 'backwards.run'), sampleStart)
  recorder.append({ type: 'tick', t: 5 })
  expect(() => recorder.append({ type: 'tick', t: 4 })).toThrow('less than 5 us')
  recorder.close()
})

test('where the system writes short, the rest of the line follows', () => {
  const path = join(folder, 'short.run')
  const writeSome = ((fd: number, bytes: Buffer, from: number) =>
    writeSync(fd, bytes, from, Math.min(7, bytes.length - from))) as typeof writeSync
  const recorder = createRecording(path, sampleStart, writeSome)
  recorder.append({ type: 'tick', t: 250_000 })
  recorder.seal(250_000)
  recorder.close()
  expect(read(path)).toMatchObject([{ type: 'start' }, { type: 'tick' }, { type: 'seal', matches: true }])
})

test.each([0, 10])('a disk with room for %i bytes at the start is a problem, and leaves no file', (room) => {
  const path = join(folder, `full-at-once-${room}.run`)
  let left = room
  const writeIntoRoom = ((fd: number, bytes: Buffer, from: number) => {
    if (left === 0) throw Object.assign(new Error('no space'), { code: 'ENOSPC' })
    const written = writeSync(fd, bytes, from, left)
    left -= written
    return written
  }) as typeof writeSync
  expect(problemOf(() => createRecording(path, sampleStart, writeIntoRoom))).toMatchObject({
    code: 'disk-full',
    exitCode: 75,
  })
  expect(existsSync(path)).toBe(false)
})

test('a full disk is a problem at once and for ever, and the file opens with a torn tail', () => {
  const path = join(folder, 'full.run')
  let room = 2000
  const writeIntoRoom = ((fd: number, bytes: Buffer, from: number) => {
    if (room === 0) throw Object.assign(new Error('no space'), { code: 'ENOSPC' })
    const written = writeSync(fd, bytes, from, Math.min(room, bytes.length - from))
    room -= written
    return written
  }) as typeof writeSync
  const recorder = createRecording(path, sampleStart, writeIntoRoom)
  let t = 0
  const problem = problemOf(() => {
    for (;;) recorder.append({ type: 'tick', t: ++t })
  })
  expect(problem.code).toBe('disk-full')
  expect(problem.message).toContain('full.run')
  room = 1000
  expect(problemOf(() => recorder.seal(t)).code).toBe('disk-full')
  recorder.close()
  const events = read(path)
  expect(events.at(-1)?.type).toBe('torn')
  expect(events.filter((event) => event.type === 'tick')).toHaveLength(t - 1)
})

test('a first line that does not fit leaves no file behind', () => {
  const path = join(folder, 'start-too-long.run')
  expect(problemOf(() => createRecording(path, { ...sampleStart, operator: 'x'.repeat(70_000) })).code).toBe(
    'line-too-long',
  )
  expect(existsSync(path)).toBe(false)
})
