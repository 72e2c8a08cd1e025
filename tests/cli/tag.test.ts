// `tag`: a file for each recording or sheets of them, with the number that the report has, and one sentence for what does not go.
import { cpSync, existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import { readCodes } from '../harness/read-codes.ts'
import { readPdf } from '../harness/read-pdf.ts'
import { realRecording } from '../harness/real-recording.ts'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const run = (...args: string[]) => runCommand(folder, args)
const read = (path: string) => readFileSync(join(folder, path))

beforeAll(async () => {
  await run('check', 'none.run')
  for (const name of ['good-1', 'off-high-2'])
    cpSync(new URL(`../../recordings/${name}.run`, import.meta.url), join(folder, `${name}.run`))
  realRecording(join(folder, 'good-1.run'), join(folder, 'real.run'))
})

test('a tag of 40 by 20 mm is written as PDF, a simulated one so named, twice with the same bytes', async () => {
  const { status, out, err } = await run('tag', 'good-1.run', '--out', 'tags')
  expect({ status, err, out }).toEqual({ status: 0, err: '', out: `${join('tags', 'good-1-simulated-tag.pdf')}\n` })
  const first = read('tags/good-1-simulated-tag.pdf')
  await run('tag', 'good-1.run', '--out', 'tags')
  expect(read('tags/good-1-simulated-tag.pdf').equals(first)).toBe(true)
  expect((await readPdf(first)).pages[0]!.text).toContain('SIMULATED')
})

test('tag and report of a recording have the same number, whichever is printed first and however often', async () => {
  expect((await run('tag', 'real.run', '--png', '203', '--out', 'one')).status).toBe(0)
  const [code = ''] = await readCodes(read('one/real-tag-203.png'))
  const [, number = ''] = /^([0-9A-F]{4} \d{4} \d{4}) 0417 [0-9A-F]{16}$/.exec(code) ?? []
  expect((await run('report', 'real.run', '--text', '--out', 'one')).status).toBe(0)
  expect(read('one/real-report.txt').toString()).toContain(`Number: ${number}`)
  await run('tag', 'real.run', '--form', 'roll', '--png', '300', '--out', 'one')
  expect(await readCodes(read('one/real-tag-300.png'))).toEqual([code])
})

test('several go on one sheet; one that cannot be read stops no other', async () => {
  const { status, out, err } = await run(
    ...['tag', 'good-1.run', 'none.run', 'off-high-2.run', '--form', 'sheet', '--used', '43', '--out', 'sheet'],
  )
  expect(status).toBe(65)
  expect(err).toContain('none.run')
  expect(out).toBe(`${join('sheet', 'tags.pdf')}\n`)
  expect(readdirSync(join(folder, 'sheet'))).toEqual(['tags.pdf'])
  const { pages } = await readPdf(read('sheet/tags.pdf'))
  expect(pages).toHaveLength(2)
})

test('what does not go together is refused before anything is written', async () => {
  for (const wrong of [
    ['--form', 'sheet', '--png', '203'],
    ['--used', '3'],
    ['--form', 'sheet', '--used', '44'],
    ['--form', 'sheet', '--used', '40', '--paper', 'letter'],
    ['--png', '600'],
    ['off-high-2.run', '--number', '1'],
  ])
    expect((await run('tag', 'good-1.run', ...wrong, '--out', 'no')).status).toBe(64)
  expect(existsSync(join(folder, 'no'))).toBe(false)
})
