// A recording that nobody writes any more: finished with what is missing, and never changed otherwise.
import { appendFileSync, readFileSync, truncateSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createRecording, type Recorder } from '../../src/recording/append.ts'
import { finishRecording } from '../../src/recording/finish-recording.ts'
import { createReader } from '../../src/recording/read.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const { id } = sampleStart
let made = 0

/** A recording with 300 readings, then what `more` writes. */
function recorded(more: (recorder: Recorder) => void = () => {}): string {
  const path = join(folder, `${++made}.run`)
  const recorder = createRecording(path, sampleStart)
  for (let t = 1; t <= 300; t++) recorder.appendBytes('rx', t, 'manometer', Buffer.from(`${t} Pa\r\n`))
  more(recorder)
  recorder.close()
  return path
}
const read = (path: string): RecordedEvent[] => {
  const reader = createReader()
  return [...reader.push(readFileSync(path)), ...reader.finish()]
}
const sealedAs = (reason: string) => [
  { type: 'end', t: 300, reason },
  { type: 'seal', t: 300, matches: true },
]

test('without an end it gets one, as abandoned, and a seal over all that is before it', () => {
  const path = recorded()
  const before = readFileSync(path)
  expect(finishRecording(path, id)).toBe('abandoned')
  expect(readFileSync(path).subarray(0, before.length)).toEqual(before)
  expect(read(path).slice(-2)).toMatchObject(sealedAs('abandoned'))
  expect(read(path)).toHaveLength(303)
})

test('a torn tail is cut off first, and no whole line with it', () => {
  const path = recorded()
  appendFileSync(path, '0123abcd {"type":"rx","t":301,"po')
  expect(finishRecording(path, id)).toBe('abandoned')
  expect(read(path)).toHaveLength(303)
  expect(read(path).slice(-2)).toMatchObject(sealedAs('abandoned'))
})

test('an end that was recorded is kept as it is and sealed', () => {
  const path = recorded((recorder) => recorder.append({ type: 'end', t: 300, reason: 'finished' }))
  expect(finishRecording(path, id)).toBe('finished')
  expect(read(path).slice(-2)).toMatchObject(sealedAs('finished'))
})

test('a seal from the middle of the test is not taken for that of the end', () => {
  const path = recorded((recorder) => recorder.seal(300))
  finishRecording(path, id)
  expect(read(path).slice(-2)).toMatchObject(sealedAs('abandoned'))
})

test('one that is sealed at its end is left untouched, byte for byte', () => {
  const path = recorded((recorder) => {
    recorder.append({ type: 'end', t: 300, reason: 'finished' })
    recorder.seal(300)
  })
  const before = readFileSync(path)
  expect(finishRecording(path, id)).toBe('finished')
  expect(readFileSync(path)).toEqual(before)
})

test('that of another test, and one without a whole line, are refused untouched', () => {
  const [another, torn] = [recorded(), recorded()]
  truncateSync(torn, 50)
  const before = [another, torn].map((path) => readFileSync(path))
  expect(() => finishRecording(another, 'another id')).toThrow('is that of another test')
  expect(() => finishRecording(torn, id)).toThrow('is that of another test')
  expect([another, torn].map((path) => readFileSync(path))).toEqual(before)
})
