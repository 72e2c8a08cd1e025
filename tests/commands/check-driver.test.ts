// A user's driver checked: what each kind of mistake is told as, and that none of them ends or hangs the command.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { doing, goodDecode, ownDriver as source, waiting } from '../harness/own-driver.ts'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()

async function check(id: string, text: string) {
  writeFileSync(join(folder, `${id}.mjs`), text)
  const { status, out, err } = await runCommand(folder, ['driver', 'check', `${id}.mjs`])
  return { status, lines: out.trimEnd().split('\n'), err }
}

const transcript = [
  {
    name: 'two lines after the tail of one',
    role: 'manometer',
    bytes: '7 Pa\n-12 Pa\nready\n',
    readings: [{ quantity: 'pressure', value: -12, unit: 'Pa', digit: 1, frameBytes: 7 }],
    faults: [{ code: 'unreadable', text: 'no number' }],
  },
]

test('a driver that keeps to the contract passes every case, and what was left out is said', async () => {
  const { status, lines, err } = await check('whole', source('whole'))
  expect(lines.filter((line) => line.startsWith('pass: '))).toHaveLength(7)
  expect(lines.slice(7)).toEqual([
    'left out: No transcript beside it: what it decodes was not compared.',
    'whole.mjs: 7 of 7 cases pass.',
  ])
  expect({ status, err }).toEqual({ status: 0, err: '' })
})

test('a transcript beside it is compared', async () => {
  writeFileSync(join(folder, 'told.transcript.json'), JSON.stringify(transcript))
  const poll = "{ bytes: '?', periodMs: 20, replyMs: 100, quietMs: 0 }"
  const { status, lines } = await check('told', source('told', { poll }))
  expect(lines).toContain('pass: reads the transcript: two lines after the tail of one')
  expect(lines).toContain('pass: gives the same however the bytes are cut: two lines after the tail of one')
  expect(lines).toContain(
    'fail: leaves time on the wire for a query and its longest reply: periodMs of query 1 is 20 ms; it and its reply take 67 ms at 1200 baud. Ask less often, or state a higher baud rate.',
  )
  expect(lines.at(-1)).toBe('told.mjs: 12 of 13 cases pass.')
  expect(status).toBe(65)
  const wrong = await check('told', source('told', { decode: goodDecode.replace('digit: 1', 'digit: 0.1') }))
  expect(wrong.lines).toContainEqual(
    expect.stringMatching(
      /^fail: reads the transcript: .*: reading 1: digit is 0\.1; the transcript states 1\. Correct /,
    ),
  )
})

test('a transcript that is none is named with its field', async () => {
  writeFileSync(join(folder, 'odd.transcript.json'), JSON.stringify([{ ...transcript[0], role: 'gauge' }]))
  const { status, err } = await check('odd', source('odd'))
  expect(err).toMatch(/^makebreak: odd\.transcript\.json: 0\.role: .*\nCorrect the field named in the transcript file/)
  expect(status).toBe(65)
})

test('a file of another ending, one that is not there, and no file at all are refused', async () => {
  writeFileSync(join(folder, 'a.js'), source('a'))
  const told = async (...args: string[]) => {
    const { status, err } = await runCommand(folder, ['driver', ...args])
    return [status, err.split('\n')[0]]
  }
  expect(await told('check', 'a.js')).toEqual([
    65,
    'makebreak: a.js does not end in .mjs, as a driver of your own must.',
  ])
  expect(await told('check', 'no.mjs')).toEqual([65, 'makebreak: Found no driver file no.mjs.'])
  expect(await told()).toEqual([
    64,
    'makebreak: `driver` takes a command: `makebreak driver list`, or `makebreak driver check FILE`.',
  ])
})

const loads = 'loads as a module'
const noise = 'never throws on noise, gives safe faults and keeps a bounded memory'

// A busy machine may take longer over so much memory than it waits for an answer.
const filled = '(took more than 300 MB of memory|gave no answer for 5 s) and was ended'

test.each([
  ['ends the program as it loads', { top: 'process.exit(0)' }, loads, 'ended the program with process.exit'],
  ['ends the program in decode', { decode: doing('process.exit(0)') }, noise, 'ended the program with process.exit'],
  ['waits for good as it loads', { top: waiting }, loads, 'gave no answer for 5 s and was ended'],
  ['never comes back from decode', { decode: doing('') }, noise, 'gave no answer for 5 s and was ended'],
  ['fills the heap', { decode: doing('kept.push(new Array(1e7).fill(1.5))') }, noise, filled],
  ['fills memory with Buffers', { decode: doing('kept.push(Buffer.alloc(1e8, 1))') }, noise, filled],
  ['throws null later', { top: 'setTimeout(() => { throw null })' }, '.*', 'failed outside of a call: null'],
])('a driver that %s is told in one sentence', async (name, parts, during, sentence) => {
  const id = name.replaceAll(' ', '-').toLowerCase()
  const { status, err } = await check(id, source(id, parts))
  expect(err).toMatch(
    new RegExp(
      `^makebreak: ${id}\\.mjs, case "${during}": The driver ${sentence}\\.\nCorrect or remove that driver file`,
    ),
  )
  expect(err.trimEnd().split('\n')).toHaveLength(2)
  expect(status).toBe(65)
})

test.each([
  ['throws null as it loads', { top: 'throw null' }, `${loads}: importing it threw null.`],
  [
    'throws as it loads what has no text',
    { top: 'throw { toString() { throw 1 } }' },
    `${loads}: importing it threw something that has no text.`,
  ],
  ['awaits what never comes', { top: 'await new Promise(() => {})' }, `${loads}: its import has not ended after 5 s.`],
  ['throws null in decode', { decode: doing('throw null') }, `${noise}: decode threw null on the bytes "`],
  [
    'throws in decode what has no text',
    { decode: doing('throw { toString() { throw 1 } }') },
    `${noise}: decode threw something that has no text on the bytes "`,
  ],
  ['gives null', { decode: doing('return null') }, `${noise}: decode gave no result on the bytes "`],
  [
    'gives text for a value',
    { decode: doing("return { readings: [{ quantity: 'pressure', value: '1' }], faults: [], memory: null }") },
    'readings[0].value is "1"; it must be a number. Catch it',
  ],
  [
    'draws at random',
    {
      decode:
        "() => ({ readings: [], faults: Math.random() < 0.5 ? [] : [{ code: 'held', text: 'x' }], memory: null })",
    },
    'two calls with the same arguments differ, as manometer. Keep all',
  ],
  [
    'changes its memory',
    { decode: '(memory) => { const m = memory ?? { n: 0 }; m.n++; return { readings: [], faults: [], memory: m } }' },
    'decode changed the memory it was given, as manometer. Keep all',
  ],
  [
    'keeps all bytes',
    { decode: "(memory, chunk) => ({ readings: [], faults: [], memory: (memory ?? '') + chunk })" },
    'after noise; it may have 1120 (12 maxFrameBytes + 400). Give a fault',
  ],
  [
    'forgets half a line',
    { decode: "(_, chunk) => ({ readings: [], faults: [{ code: 'held', text: 'x' }], memory: null })" },
    'cut into',
  ],
  ['looks at the clock', { top: 'const begun = Date.now()' }, 'line 1 uses Date. Take it out'],
  [
    'imports a module',
    { top: "import { existsSync } from 'node:fs'" },
    'line 1 imports "node:fs"; it may import nothing.',
  ],
])('a driver that %s fails a case with what it did and what to do', async (name, parts, told) => {
  const id = name.replaceAll(' ', '-').toLowerCase()
  const { status, lines, err } = await check(id, source(id, parts))
  expect(lines.filter((line) => line.startsWith('fail: ')).join('\n')).toContain(told)
  for (const line of lines)
    expect(line).toMatch(/^(pass|fail|left out): [ -~]+$|^[\w-]+\.mjs: \d+ of \d+ cases pass\.$/)
  expect({ status, err }).toEqual({ status: 65, err: '' })
})

test('a driver with a taken id, with another id than its file, or with none at all fails its first case', async () => {
  const first = async (id: string, text: string) => (await check(id, text)).lines[1]
  expect(await first('ascii-line', source('ascii-line'))).toContain('is one of those that are taken')
  expect(await first('one', source('other'))).toContain('the id is "other"; it must be "one", the name of its file')
  expect(await first('none', 'export const driver = null')).toMatch(/^fail: has its file name/)
  expect(await first('void', 'export const other = 1')).toContain('it exports no "driver"')
})
