// `report`: a file for each recording, a summary of several, and one sentence for what cannot be read or written.

import { createHash } from 'node:crypto'
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { crc32 } from 'node:zlib'
import { beforeAll, expect, test } from 'vitest'
import { readPdf } from '../harness/read-pdf.ts'
import { runCommand } from '../harness/run-command.ts'
import { environmentIn } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const run = (...args: string[]) => runCommand(folder, ['report', ...args])
const read = (name: string) => readFileSync(join(folder, name), 'utf8')

beforeAll(async () => {
  await runCommand(folder, ['check', 'none.run'])
  for (const name of ['good-1', 'off-high-2'])
    cpSync(new URL(`../../recordings/${name}.run`, import.meta.url), join(folder, `${name}.run`))
})

test('a PDF is written unless another form is asked for, twice with the same bytes', async () => {
  const { status, out, err } = await run('good-1.run', '--out', 'papers')
  expect({ status, err }).toEqual({ status: 0, err: '' })
  const path = join('papers', 'good-1-simulated-report.pdf')
  expect(out).toBe(`${path}\n`)
  const first = readFileSync(join(folder, path))
  expect(first.toString('latin1', 0, 8)).toBe('%PDF-1.7')
  await run('good-1.run', '--out', 'papers')
  expect(readFileSync(join(folder, path)).equals(first)).toBe(true)
})

test('the text names the digest of the very file, its number and the earlier test beside it', async () => {
  const { status } = await run('good-1.run', '--text', '--number', '27-0114', '--out', 'texts')
  expect(status).toBe(0)
  const text = read('texts/good-1-simulated-report.txt')
  const digest = createHash('sha256')
    .update(readFileSync(join(folder, 'good-1.run')))
    .digest('hex')
  expect(text.replace(/\s+/g, ' ')).toContain(`sha256 of the file: ${digest}`)
  expect(text).toContain('Number: 27-0114')
  expect(text).toContain('Earlier tests of this serial: none found here')
})

test('the day of issue of a number that is given by hand is printed as it was typed, and refused where it is none', async () => {
  const numbered = ['good-1.run', '--text', '--number', '27-0114', '--out', 'issued']
  await run(...numbered)
  expect(read('issued/good-1-simulated-report.txt')).toContain('Issued: not recorded')
  expect((await run(...numbered, '--issued', '2027-03-14')).status).toBe(0)
  expect(read('issued/good-1-simulated-report.txt')).toContain('Issued: 2027-03-14')
  const none = await run(...numbered, '--issued', '2027-02-30')
  expect(none).toMatchObject({ status: 64, err: expect.stringContaining('It must be a day, year first') })
  expect((await run('good-1.run', '--text', '--issued', '2027-03-14')).err).toContain('--issued is for --number only')
})

test('an earlier test of the same part in the same folder is named with its day and its verdict', async () => {
  const [first = ''] = readFileSync(join(folder, 'good-1.run'), 'utf8').split('\n')
  const start = JSON.parse(first.slice(9))
  const json = JSON.stringify({ ...start, id: 'earlier', at: '2025-12-24T10:30:00.000Z' })
  mkdirSync(join(folder, 'again'))
  cpSync(join(folder, 'good-1.run'), join(folder, 'again', 'good-1.run'))
  const rest = readFileSync(join(folder, 'good-1.run'), 'utf8').slice(first.length)
  writeFileSync(join(folder, 'again', 'before.run'), `${crc32(json).toString(16).padStart(8, '0')} ${json}${rest}`)
  await run('again/good-1.run', '--text', '--out', 'again')
  expect(read('again/good-1-simulated-report.txt')).toContain(
    'Earlier tests of this serial: 2025-12-24 10:30 UTC simulated PASS',
  )
})

test('an earlier test is found in the folder of the recordings of this computer too', async () => {
  const lines = readFileSync(join(folder, 'good-1.run'), 'utf8').split('\n')
  const start = JSON.parse(lines[0]!.slice(9))
  const json = JSON.stringify({ ...start, id: 'long ago', at: '2024-12-24T10:30:00.000Z' })
  const recordings = environmentIn(folder)['XDG_DATA_HOME']
  mkdirSync(join(recordings!, 'makebreak', 'recordings'), { recursive: true })
  const text = [`${crc32(json).toString(16).padStart(8, '0')} ${json}`, ...lines.slice(1)].join('\n')
  const earlier = join(recordings!, 'makebreak', 'recordings', 'long-ago.run')
  writeFileSync(earlier, text)
  await run('good-1.run', '--text', '--out', 'elsewhere')
  rmSync(earlier)
  expect(read('elsewhere/good-1-simulated-report.txt')).toContain(
    'Earlier tests of this serial: 2024-12-24 10:30 UTC simulated PASS',
  )
})

test('the settings of the shop give its head, its paper and its decimal sign; a wrong one is named before anything is written', async () => {
  const config = join(environmentIn(folder)['XDG_CONFIG_HOME']!, 'makebreak')
  mkdirSync(config, { recursive: true })
  writeFileSync(join(config, 'shop.json'), '{"name":"Hollin Lane","paper":"letter","decimal":"comma"}')
  await run('good-1.run', '--out', 'shop')
  const { pages } = await readPdf(readFileSync(join(folder, 'shop/good-1-simulated-report.pdf')))
  expect(pages.map(({ width, height }) => [width, height])).toEqual([[612, 792]])
  expect(pages[0]!.text).toContain('Shop Hollin Lane')
  const { out } = await run('good-1.run', 'off-high-2.run', '--csv', '--out', 'shop')
  expect(out.split('\n').slice(0, 2)).toEqual([join('shop', 'results.csv'), join('shop', 'cycles.csv')])
  expect(read('shop/results.csv').split('\r\n')).toHaveLength(4)
  expect(read('shop/cycles.csv')).toMatch(/^good-1\.run;'?0417;1;63,1\d*;/m)
  await run('good-1.run', '--csv', '--decimal', 'point', '--out', 'shop')
  expect(read('shop/cycles.csv')).toMatch(/^good-1\.run,'?0417,1,63\.1\d*,/m)
  writeFileSync(join(config, 'shop.json'), '{"paper":"a5"}')
  const wrong = await run('good-1.run', '--out', 'never')
  rmSync(join(config, 'shop.json'))
  expect(wrong.status).toBe(65)
  expect(wrong.err).toContain('paper is "a5"; it must be "a4" or "letter"')
  expect(existsSync(join(folder, 'never'))).toBe(false)
})

test.skipIf(process.platform === 'win32')(
  '--print hands each PDF to lp, and where that is missing says so once',
  async () => {
    const bin = join(folder, 'bin')
    mkdirSync(bin)
    writeFileSync(join(bin, 'lp'), '#!/bin/sh\ncat > /dev/null\necho "request $2"\n', { mode: 0o755 })
    const path = process.env['PATH']
    process.env['PATH'] = `${bin}:${path}`
    const printed = await run('good-1.run', 'off-high-2.run', '--print', '--out', 'print')
    expect(printed.out.split('\n').filter((line) => line.startsWith('Printed'))).toEqual([
      'Printed: request good-1-simulated-report.',
      'Printed: request off-high-2-simulated-report.',
      'Printed: request summary.',
    ])
    process.env['PATH'] = join(folder, 'nothing')
    const not = await run('good-1.run', 'off-high-2.run', '--print', '--out', 'print')
    process.env['PATH'] = path
    expect(not.status).toBe(69)
    expect(not.err.match(/the command lp is missing/g)).toHaveLength(1)
    expect((await run('good-1.run', '--print', '--text', '--out', 'no')).status).toBe(64)
  },
)

test('of several recordings there is a summary too; one that cannot be read stops no other', async () => {
  writeFileSync(join(folder, 'other.run'), 'no recording\n')
  const { status, out, err } = await run('good-1.run', 'other.run', 'off-high-2.run', '--html', '--out', 'lot')
  expect(status).toBe(65)
  expect(err).toContain('other.run')
  expect(readdirSync(join(folder, 'lot')).sort()).toEqual([
    'good-1-simulated-report.html',
    'off-high-2-simulated-report.html',
    'summary.html',
  ])
  expect(out.trim().split('\n')).toHaveLength(3)
  expect(read('lot/summary.html')).toContain('SIMULATED')
})

test('two forms at once, or one number for several, are refused before anything is written', async () => {
  expect((await run('good-1.run', '--html', '--text', '--out', 'no')).status).toBe(64)
  expect((await run('good-1.run', 'off-high-2.run', '--number', '1', '--out', 'no')).status).toBe(64)
  expect((await run('good-1.run', '--paper', 'a5', '--out', 'no')).status).toBe(64)
  expect(existsSync(join(folder, 'no'))).toBe(false)
})

test('a recording that was cut is no whole report: torn is written across it', async () => {
  writeFileSync(join(folder, 'cut.run'), readFileSync(join(folder, 'good-1.run')).subarray(0, -40))
  await run('cut.run', '--text', '--out', 'cut')
  const text = read('cut/cut-simulated-report.txt')
  expect(text).toContain('Torn: yes')
  expect(text.replace(/\s+/g, ' ')).toMatch(/Result make .*?Outcome: not decided/)
})
