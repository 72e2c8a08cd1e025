// A recording whose path no longer leads to it while it is written: saved beside, whole where it can be, and told.
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { Problem } from '../../src/errors.ts'
import { createRecording, type Recorder } from '../../src/recording/append.ts'
import { sameFile, whyStrayed } from '../../src/recording/file-identity.ts'
import { createReader } from '../../src/recording/read.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
let made = 0

const read = (path: string): RecordedEvent[] => {
  const reader = createReader()
  return [...reader.push(readFileSync(path)), ...reader.finish()]
}
/** A recording of a few ticks in a folder of its own, still open. */
function begin(): { path: string; saved: string; recorder: Recorder } {
  const own = join(folder, `${++made}`)
  mkdirSync(own)
  const path = join(own, 'x.run')
  const recorder = createRecording(path, sampleStart)
  for (let t = 1; t <= 20; t++) recorder.append({ type: 'tick', t })
  return { path, saved: join(own, 'x-recovered.run'), recorder }
}
/** What closing says, once the end and the seal are written. */
function closeSealed(recorder: Recorder): Problem | null {
  recorder.append({ type: 'end', t: 30, reason: 'finished' })
  recorder.seal(30)
  try {
    recorder.close()
    return null
  } catch (error) {
    if (error instanceof Problem) return error
    throw error
  }
}

const replacements: Record<string, (path: string) => void> = {
  'was moved or deleted': (path) => rmSync(path),
  'was replaced by another file': (path) => {
    writeFileSync(`${path}.new`, 'something else\n')
    renameSync(`${path}.new`, path)
  },
}

test.each(Object.entries(replacements))('a recording that %s is saved whole beside its path, sealed', (why, act) => {
  const { path, saved, recorder } = begin()
  expect(recorder.whyAstray()).toBeNull()
  act(path)
  expect(recorder.whyAstray()).toBe(`${why} during the test`)
  const there = existsSync(path) ? readFileSync(path, 'utf8') : null
  expect(closeSealed(recorder)).toMatchObject({
    code: 'recording-astray',
    message: `The recording ${path} ${why} during the test; all of it is kept in ${saved}.`,
    next: expect.stringMatching(/^Keep the file named last/),
  })
  const events = read(saved)
  expect(events).toHaveLength(23)
  expect(events.at(-1)).toMatchObject({ type: 'seal', matches: true })
  // What took its place is not written to.
  expect(existsSync(path) ? readFileSync(path, 'utf8') : null).toBe(there)
})

test('a copy of the recording in its place is another file, however alike it is', () => {
  const { path, saved, recorder } = begin()
  copyFileSync(path, `${path}.copy`)
  renameSync(`${path}.copy`, path)
  expect(closeSealed(recorder)?.message).toContain('was replaced by another file during the test; all of it is kept')
  expect(read(path).at(-1)).toMatchObject({ type: 'tick' })
  expect(read(saved).at(-1)).toMatchObject({ type: 'seal', matches: true })
})

test('a folder that is gone is made again for what was recorded', () => {
  const { path, saved, recorder } = begin()
  rmSync(join(path, '..'), { recursive: true })
  expect(closeSealed(recorder)?.message).toContain(`all of it is kept in ${saved}.`)
  expect(read(saved).at(-1)).toMatchObject({ type: 'seal', matches: true })
})

test('no file is written over: a name that is taken is left alone', () => {
  const { path, saved, recorder } = begin()
  writeFileSync(saved, 'precious')
  rmSync(path)
  const second = saved.replace('.run', '-2.run')
  expect(closeSealed(recorder)?.message).toContain(`kept in ${second}.`)
  expect(readFileSync(saved, 'utf8')).toBe('precious')
  expect(read(second).at(-1)).toMatchObject({ type: 'seal', matches: true })
})

test('a recording that was cut short is told with both sizes, and what is left of it never seals', () => {
  const { path, saved, recorder } = begin()
  const whole = readFileSync(path).length
  truncateSync(path, 800)
  const why = `was cut to 800 of ${whole} bytes during the test`
  expect(recorder.whyAstray()).toBe(why)
  expect(closeSealed(recorder)?.message).toBe(`The recording ${path} ${why}; what is left of it is kept in ${saved}.`)
  for (const file of [path, saved]) expect(read(file).at(-1)).toMatchObject({ type: 'seal', matches: false })
})

test('once astray it stays astray, also where the file is put back', () => {
  const { path, saved, recorder } = begin()
  renameSync(path, `${path}.away`)
  expect(recorder.whyAstray()).toBe('was moved or deleted during the test')
  renameSync(`${path}.away`, path)
  expect(closeSealed(recorder)?.code).toBe('recording-astray')
  expect(readFileSync(saved)).toEqual(readFileSync(path))
})

test('a file that was moved and is reached through a link in its place is not astray', () => {
  const { path, recorder } = begin()
  renameSync(path, `${path}.away`)
  symlinkSync(`${path}.away`, path)
  expect(closeSealed(recorder)).toBeNull()
})

describe('sameFile', () => {
  test('compares device and inode', () => {
    const own = { dev: 1n, ino: 5n }
    expect(sameFile({ dev: 1n, ino: 5n }, own, false)).toBe(true)
    expect(sameFile({ dev: 1n, ino: 6n }, own, false)).toBe(false)
    expect(sameFile({ dev: 2n, ino: 5n }, own, false)).toBe(false)
  })

  test('raises no alarm where the system gives no inode, nor on Windows for the device', () => {
    const none = { dev: 1n, ino: 0n }
    expect(sameFile(none, { dev: 1n, ino: 5n }, true)).toBe(true)
    expect(sameFile({ dev: 7n, ino: 5n }, none, false)).toBe(true)
    expect(sameFile({ dev: 2n, ino: 5n }, { dev: 1n, ino: 5n }, true)).toBe(true)
    expect(sameFile({ dev: 1n, ino: 6n }, { dev: 1n, ino: 5n }, true)).toBe(false)
  })

  test('without an inode a file that is gone is missed all the same, one that is there is not doubted', () => {
    const path = join(folder, 'plain')
    writeFileSync(path, 'x')
    expect(whyStrayed(path, { dev: 0n, ino: 0n })).toBeNull()
    rmSync(path)
    expect(whyStrayed(path, { dev: 0n, ino: 0n })).toBe('was moved or deleted during the test')
  })
})
