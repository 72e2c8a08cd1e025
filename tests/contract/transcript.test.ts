// Transcripts as JSON, and the first difference between what one states and what was read.
import { expect, test } from 'vitest'
import { chunksOf, everyCut } from '../../src/contract/chunks.ts'
import { type Transcript, transcriptsSchema } from '../../src/contract/transcript.ts'
import { transcriptFault } from '../../src/contract/transcript-fault.ts'
import { resistance } from '../drivers/transcript.ts'

const stated: Transcript = {
  name: 'open, then closed',
  role: 'meter',
  bytes: 'OL\n0.3\nx\n',
  readings: [resistance(Number.POSITIVE_INFINITY, null, 3), resistance(0.3, 0.1, 4)],
  faults: [{ code: 'unreadable', text: 'no number' }],
}
const safe = /^[ -~]{1,80}$/
const found = { ...structuredClone(stated), memory: null, readings: [...stated.readings], faults: [...stated.faults] }

test('numbers that JSON does not have are written as texts', () => {
  const json = JSON.parse(JSON.stringify([stated]).replace('"value":null', '"value":"Infinity"'))
  expect(transcriptsSchema.parse(json)).toEqual([stated])
  expect(transcriptsSchema.safeParse(JSON.parse(JSON.stringify([stated]))).success).toBe(false)
})

test.each([
  ['nothing where all agree', {}, null],
  ['how many came', { readings: found.readings.slice(1) }, '1 readings came; the transcript states 2'],
  [
    'a value beyond rounding',
    { readings: [found.readings[0]!, { ...found.readings[1]!, value: 0.3 + 1e-9 }] },
    'reading 2: value is 0.300000001; the transcript states 0.3',
  ],
  [
    'nothing of a value within rounding',
    { readings: [found.readings[0]!, { ...found.readings[1]!, value: 0.1 + 0.2 }] },
    null,
  ],
  [
    'another fault',
    { faults: [{ code: 'held' as const, text: 'HOLD' }] },
    'fault 1 is held; the transcript states unreadable',
  ],
  [
    'another text',
    { faults: [{ code: 'unreadable' as const, text: 'what' }] },
    'fault 1 says "what"; it must hold "no number" in printable ASCII',
  ],
])('tells %s', (_, change, fault) => {
  expect(transcriptFault({ ...found, ...change }, stated, safe)).toBe(fault)
})

test('what was sent stays whole and in its place, however what was received is cut', () => {
  const chunks = chunksOf(['ab', { sent: 'Q?' }, 'cd'])
  const cuts = [...everyCut(chunks)]
  expect(cuts.length).toBeGreaterThan(50)
  for (const cut of cuts) {
    const at = cut.findIndex(({ way }) => way === 'sent')
    const text = (some: typeof cut) => some.map(({ bytes }) => bytes).join('')
    expect([text(cut.slice(0, at)), cut[at], text(cut.slice(at + 1))]).toEqual([
      'ab',
      { way: 'sent', bytes: 'Q?' },
      'cd',
    ])
  }
})
