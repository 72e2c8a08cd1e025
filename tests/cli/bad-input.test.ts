// Whatever a user gets wrong: one sentence with the value, a next step, a stated exit status, and no stack trace.
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { type Ended, runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const write = (name: string, content: unknown) => {
  writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content))
  return name
}

const part = {
  kind: 'draft-proving',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: 55, high: 70, unit: 'Pa' } },
}
const manometer = {
  driver: 'ascii-line',
  suctionSign: -1,
  digit: { value: 0.1, unit: 'Pa' },
  port: { path: '/dev/nonesuch-1' },
}
const meter = { driver: 'scpi-query', pair: 'com-no', port: { path: '/dev/nonesuch-2' } }
const rig = { manometer, meter }
write('part.json', part)
write('rig.json', rig)

/** One sentence that names the program, one next step, nothing of the program's insides. */
function expectRefusal({ status, err }: Ended, wantedStatus: number, sentence: RegExp): void {
  expect(err).toMatch(sentence)
  expect(status).toBe(wantedStatus)
  const lines = err.trimEnd().split('\n')
  expect(lines).toHaveLength(2)
  expect(lines[0]).toMatch(/^makebreak: .*[.?!)]$/)
  expect(lines[1]).toMatch(/^[A-Z].*\.$/)
  expect(err).not.toMatch(/\bat .*:\d+:\d+|node:internal/)
  expect(err).not.toContain('\u001b')
}

describe('the command line', () => {
  test.each([
    [['nonesuch'], /unknown command 'nonesuch'/],
    [['--nonesuch'], /unknown option '--nonesuch'/],
    [['replay'], /missing required argument 'file'/],
    [['run', '--purpose', 'nonesuch'], /'nonesuch' is invalid\. Allowed choices are certify/],
    [['run', 'part.json'], /too many arguments/],
    [['run', '--serial', 'x'.repeat(101)], /--serial has 101 characters; it may have 100/],
    [['replay', 'x.run', '--speed', '2'], /--speed is for --watch only/],
    [['replay', 'x.run', '--watch', '--speed', '0'], /It must be a number from 0\.1 to 1000/],
    [['replay', 'x.run', 'y.run', '--watch'], /--watch takes one file, not 2/],
    [['replay', 'x.run', '--watch', '--json'], /choose one/],
    [['ports', '--baud', '12'], /--baud is "12"; it must be all, or a whole number from 50 to 4000000/],
    [['simulate', 'nonesuch'], /No simulated bench "nonesuch"; there are good/],
    [['simulate', 'good', '--random'], /choose one of the two/],
    [['simulate', '--seed', '1.5'], /whole number/],
    [['simulate', '--speed', '2'], /--speed is for --serve only/],
    [['simulate', '--serve', '--speed', '0'], /It must be a number from 0\.1 to 10/],
    [['run', '--rig', 'rig.json'], /No part is named and .*parts holds none/],
    [['run', '\u001b[2J'], /too many arguments/],
  ])('%j is refused with status 64', async (args, sentence) => {
    expectRefusal(await runCommand(folder, args), 64, sentence)
  })
})

describe('part and rig files', () => {
  test.each([
    ['a field of its own', { ...part, limitz: 1 }, /"limitz" is not a known field/],
    [
      'limits upside down',
      { ...part, limits: { make: { low: 70, high: 55, unit: 'Pa' } } },
      /low 70 Pa is not below high 55 Pa/,
    ],
    [
      'an unknown unit',
      { ...part, rated: { ...part.rated, unit: 'bananas' } },
      /rated point unit \(rated\.unit\) is "bananas"; it must be "Pa", .*"inH2O"/,
    ],
    [
      'a value out of range',
      { ...part, rated: { ...part.rated, value: -62 } },
      /rated point \(rated\.value\) is -62 Pa; it must be more than 0 Pa/,
    ],
    ['an escape sequence', { ...part, kind: '\u001b[31m' }, /kind is "\\u001b\[31m"/],
    ['a comma too many', '{\n "kind": "blockage",\n}', /line 2, column 20: a comma before } is one too many/],
    ['nothing in it', '', /is empty/],
  ])('a part file with %s is refused with status 65', async (_, content, sentence) => {
    const args = ['run', '--part', write('bad-part.json', content), '--rig', 'rig.json']
    expectRefusal(await runCommand(folder, args), 65, sentence)
  })

  test.each([
    [
      'an unknown driver',
      { ...rig, meter: { ...meter, driver: 'nonesuch' } },
      /meter\.driver is "nonesuch"; the drivers here are ascii-line, block-pair, [a-z0-9, -]*scpi-query/,
    ],
    [
      'an option that is out of range',
      { ...rig, meter: { ...meter, options: { intervalMs: 1 } } },
      /"intervalMs".* is 1; it must be a number from/,
    ],
    ['no path', { ...rig, meter: { ...meter, port: {} } }, /meter\.port\.path is missing/],
    [
      'one path for both',
      { manometer, meter: { ...meter, port: manometer.port } },
      /manometer and meter are both on the port \/dev\/nonesuch-1/,
    ],
    [
      'an unknown simulated bench',
      {
        manometer: { ...manometer, port: { path: 'simulated:x' } },
        meter: { ...meter, port: { path: 'simulated:x' } },
      },
      /No simulated bench "x"/,
    ],
  ])('a rig file with %s is refused', async (_, content, sentence) => {
    const ended = await runCommand(folder, ['run', '--part', 'part.json', '--rig', write('bad-rig.json', content)])
    expectRefusal(ended, ended.err.includes('simulated bench') ? 64 : 65, sentence)
  })

  test('a file that is not there is named', async () => {
    const ended = await runCommand(folder, ['run', '--part', 'part.json', '--rig', './nonesuch.json'])
    expectRefusal(ended, 65, /Found no rig file \.\/nonesuch\.json/)
  })

  test('names stand for files in the folders of the user, and an unknown one is answered with those there', async () => {
    const parts = join(folder, 'home', 'config', 'makebreak', 'parts')
    mkdirSync(parts, { recursive: true })
    for (const name of ['dp62', 'dp70']) writeFileSync(join(parts, `${name}.json`), JSON.stringify(part))
    expectRefusal(
      await runCommand(folder, ['run', '--part', 'dp99', '--rig', 'rig.json']),
      65,
      /No part is named "dp99": .*parts holds dp62, dp70/,
    )
    expectRefusal(
      await runCommand(folder, ['run', '--rig', 'rig.json']),
      64,
      /holds 2 parts \(dp62, dp70\): name one with --part/,
    )
    expectRefusal(
      await runCommand(folder, ['run', '--part', 'dp62', '--rig', 'rig.json']),
      69,
      /Port \/dev\/nonesuch-[12] not found/,
    )
  })

  test('a port that is not there leaves no recording, and a folder in its place is said in one sentence', async () => {
    const recordings = join(folder, 'none-recorded')
    const refused = (rigFile: string, ...more: string[]) =>
      runProgram(folder, ['run', '--part', 'part.json', '--rig', rigFile, '--data-dir', recordings, ...more])
    expectRefusal(await refused('rig.json'), 69, /Port \/dev\/nonesuch-[12] not found\./)
    const told = await refused('rig.json', '--plain')
    expectRefusal(told, 69, /Port .* not found/)
    expect(told.out).toContain('No recording is kept: nothing came from any instrument.')
    expect(readdirSync(recordings)).toEqual([])
    write('folder-rig.json', JSON.stringify(rig).replaceAll('/dev/nonesuch-1', folder))
    expectRefusal(await refused('folder-rig.json'), 69, /Port .* not found: it is a folder\./)
    expect(readdirSync(recordings)).toEqual([])
  })

  test('a driver of the user that is none is named', async () => {
    const own = join(folder, 'own')
    const drivers = join(own, 'home', 'config', 'makebreak', 'drivers')
    mkdirSync(drivers, { recursive: true })
    writeFileSync(join(drivers, 'broken.mjs'), 'export const driver = {')
    expectRefusal(await runCommand(own, ['replay', 'x.run']), 65, /broken\.mjs does not load/)
  })
})

describe('recordings', () => {
  test.each([
    ['an empty file', '', /empty/],
    ['another kind of file', '{"a":1}\n', /not a recording/],
    ['a binary file', '\u0000\u0001\u0002\n\u0003', /not a recording/],
  ])('%s is refused with status 65, by replay, check and curve', async (_, content, sentence) => {
    const name = write('bad.run', content)
    for (const command of ['replay', 'check', 'curve'])
      expectRefusal(await runCommand(folder, [command, name]), 65, sentence)
  })

  test('a file that is not there, and a folder, are refused with status 65', async () => {
    for (const command of ['replay', 'check', 'curve']) {
      expectRefusal(await runCommand(folder, [command, 'nonesuch.run']), 65, /File nonesuch\.run not found/)
      expectRefusal(await runCommand(folder, [command, '.']), 65, /\. (is not a file|cannot be read)/)
    }
  })
})

describe('folders', () => {
  test('a folder that is a file cannot take recordings', async () => {
    expectRefusal(await runCommand(folder, ['run', '--data-dir', 'part.json']), 73, /folder .*part\.json .*EEXIST/)
    expectRefusal(await runCommand(folder, ['simulate', '--short', '--out', 'part.json']), 73, /part\.json .*EEXIST/)
  })
})
