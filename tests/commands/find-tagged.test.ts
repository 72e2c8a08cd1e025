// What is scanned or typed in place of a serial number, and the recording that it opens.
import { createHash } from 'node:crypto'
import { cpSync, mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { findTagged } from '../../src/commands/find-tagged.ts'
import { tagCodeText } from '../../src/core/text/tag-code.ts'
import { numberOf } from '../../src/numbers/number-of.ts'
import { realRecording } from '../harness/real-recording.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const folders = { recordings: join(folder, 'recordings'), numbers: join(folder, 'numbers') }
mkdirSync(folders.recordings)
const golden = (name: string) => new URL(`../../recordings/${name}.run`, import.meta.url).pathname
const path = (name: string) => join(folders.recordings, `${name}.run`)
const digestOf = (name: string) =>
  createHash('sha256')
    .update(readFileSync(path(name)))
    .digest('hex')

realRecording(golden('good-1'), path('real'), { id: 'real' })
realRecording(golden('good-1'), path('later'), { id: 'later', at: '2026-03-01T08:00:00.000Z' })
cpSync(golden('off-high-2'), path('simulated'))

const allot = (name: string, result: string, recordingId?: string) =>
  numberOf({
    ...{ folder: folders.numbers, fingerprint: '3f9c'.padEnd(64, '0'), recordingDigest: digestOf(name) },
    ...{ resultDigest: createHash('sha256').update(result).digest('hex'), at: new Date('2027-03-14'), why: 'why' },
    ...(recordingId !== undefined && { recordingId }),
  }).number
const first = allot('real', 'pass', 'real')
const code = { standing: null, number: first, serial: '0417' }

test('the number typed by hand opens its recording, with dashes or small letters too', async () => {
  for (const typed of [first, first.toLowerCase(), first.replaceAll(' ', '-'), ` ${first}\n`])
    expect(await findTagged(typed, folders)).toMatchObject({ path: path('real'), number: first, later: null })
})

test('a scanned tag opens the recording of its digest, simulated ones without a number too', async () => {
  expect(await findTagged(tagCodeText({ ...code, sha256: digestOf('real') }), folders)).toMatchObject({
    path: path('real'),
    standing: null,
  })
  const simulated = { standing: 'SIMULATED', number: null, serial: '0417', sha256: digestOf('simulated') } as const
  expect(await findTagged(tagCodeText(simulated), folders)).toMatchObject({
    path: path('simulated'),
    standing: 'SIMULATED',
    glance: { start: { simulated: true }, verdict: 'fail' },
  })
})

test('a number that was allotted before recordings were named beside it opens its recording too', async () => {
  const number = allot('later', 'pass')
  expect(await findTagged(number, folders)).toMatchObject({ path: path('later'), number })
})

test('a report that gave way to another says which', async () => {
  const later = allot('real', 'undecided', 'real')
  expect(await findTagged(first, folders)).toMatchObject({ number: first, later })
  expect(await findTagged(later, folders)).toMatchObject({ number: later, later: null })
})

test.each(['', 'A1047', '0417', '3F9C20279999', '123420270001', '0123456789ABCDEF', 'Ж 12'])(
  'what names nothing here, such as %j, is a serial number',
  async (text) => {
    expect(await findTagged(text, folders)).toBe(null)
  },
)

test('a tag that nothing here belongs to, or whose number belongs to another recording, is said to', async () => {
  await expect(findTagged('3F9C 2027 9999', folders)).rejects.toThrow('No report of the number 3F9C 2027 9999')
  await expect(findTagged('REJECT A1047 0123456789ABCDEF', folders)).rejects.toThrow('No recording in')
  await expect(findTagged('AAAA 2027 0001 A1047 0123456789ABCDEF', folders)).rejects.toThrow('No recording in')
  await expect(findTagged(tagCodeText({ ...code, sha256: digestOf('later') }), folders)).rejects.toThrow(
    `The number ${first} belongs to another recording`,
  )
})
