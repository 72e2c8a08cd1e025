// Each mistake in a part or rig file becomes one sentence that shows the field, its value and what is allowed.
import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { rigMistakes } from '../../src/commands/check-setup.ts'
import { listSetups } from '../../src/commands/list-setups.ts'
import { readPart, readRig } from '../../src/commands/read-setup.ts'
import { Problem } from '../../src/errors.ts'
import { sampleDriver } from '../harness/sample-driver.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()

const drivers = new Map([[sampleDriver.id, sampleDriver]])

const part = {
  model: 'DP-62',
  kind: 'draft-proving',
  rated: { value: 0.25, unit: 'inH2O', on: 'make' },
  limits: { make: { low: 0.22, high: 0.28, unit: 'inH2O' }, break: { low: 0.15, high: null, unit: 'inH2O' } },
}
const manometer = { driver: 'test-line', suctionSign: -1, digit: { value: 0.001, unit: 'inH2O' } }
const rig = { manometer, meter: { driver: 'test-line', pair: 'com-no' } }

async function write(name: string, value: unknown): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, typeof value === 'string' || value instanceof Uint8Array ? value : JSON.stringify(value))
  return path
}

async function problemOf(action: Promise<unknown>): Promise<Problem> {
  const error = await action.then(
    () => null,
    (reason: unknown) => reason,
  )
  expect(error).toBeInstanceOf(Problem)
  return error as Problem
}

test('a part is read by its path and by its name', async () => {
  const path = await write('dp62.json', part)
  expect(await readPart(path, '/nowhere')).toEqual(part)
  expect(await readPart('dp62', folder)).toEqual(part)
  expect(await listSetups(folder)).toContain('dp62')
  expect(await listSetups(join(folder, 'absent'))).toEqual([])
})

test('a rig is read and its defaults are filled in', async () => {
  const read = await readRig(await write('rig.json', rig), folder, drivers)
  expect(read.meter).toMatchObject({ closedBelowOhm: 10, openAboveOhm: 1000, leadsOhm: 0 })
})

test('two instruments on one port are refused, however Windows writes its name; simulated ones share theirs', async () => {
  const on = (first: string, second: string) => ({
    manometer: { ...manometer, port: { path: first } },
    meter: { ...rig.meter, port: { path: second } },
  })
  for (const [first, second] of [
    ['/dev/nonesuch-1', '/dev/nonesuch-1'],
    ['COM3', 'com3'],
  ] as const) {
    const problem = await problemOf(readRig(await write('twice.json', on(first, second)), folder, drivers))
    expect(problem.message).toMatch(/manometer and meter are both on the port .*; each needs its own\.$/)
    expect(rigMistakes(on(first, second), drivers)).toMatchObject([{ field: 'meter.port.path' }])
  }
  await readRig(await write('twice.json', on('simulated:good', 'simulated:good')), folder, drivers)
  await readRig(await write('twice.json', on('COM3', 'COM30')), folder, drivers)
})

const spoiled = (change: object) => ({ ...part, ...change })

test.each([
  ['a misspelt field', spoiled({ limit: {} }), /"limit" is not a known field/],
  ['a misspelt field inside', spoiled({ rated: { ...part.rated, onn: 1 } }), /"rated\.onn" is not a known field/],
  ['a missing field', spoiled({ kind: undefined }), /kind is missing; it must be "draft-proving" or "blockage"/],
  ['a wrong word', spoiled({ kind: 'draft' }), /kind is "draft"; it must be "draft-proving" or "blockage"/],
  [
    'a number as text',
    spoiled({ rated: { ...part.rated, value: '0.25' } }),
    /rated point \(rated\.value\) is "0\.25"; it must be a number \(no quotes around it\), such as 0\.25\.$/,
  ],
  [
    'a number out of range',
    spoiled({ rated: { ...part.rated, value: -1 } }),
    /rated point \(rated\.value\) is -1 inH2O; it must be more than 0 inH2O\.$/,
  ],
  [
    'an unknown unit',
    spoiled({ rated: { ...part.rated, unit: 'inches' } }),
    /rated point unit \(rated\.unit\) is "inches"; it must be "Pa", .*"inH2O", .* or "Torr"\.$/,
  ],
  [
    'limits upside down',
    spoiled({ limits: { make: { low: 0.28, high: 0.22, unit: 'inH2O' } } }),
    /make limits \(limits\.make\): low 0\.28 inH2O is not below high 0\.22 inH2O/,
  ],
  [
    'a limit below zero',
    spoiled({ limits: { break: { low: -0.1, high: null, unit: 'inH2O' } } }),
    /break limits low \(limits\.break\.low\) is -0\.1 inH2O; it must be at least 0 inH2O\.$/,
  ],
  [
    'limits in another unit than the rated point',
    spoiled({ limits: { make: { low: 0.22, high: 0.28, unit: 'kPa' } } }),
    /\(rated\.value\) is 0\.25 inH2O \(0\.0623 kPa\); it must be within make limits \(limits\.make\) 0\.22 to 0\.28 kPa: check/,
  ],
  [
    'a list of unknown units',
    spoiled({ proof: { value: 3, unit: [] } }),
    /proof pressure unit \(proof\.unit\) is \[\]/,
  ],
  ['a proof below the rating', spoiled({ proof: { value: 0.3, unit: 'inH2O' } }), /0\.3 inH2O is less than twice/],
  ['a list', [], /the file is \[\]; it must be an object/],
])('a part file with %s is refused', async (_, value, sentence) => {
  const problem = await problemOf(readPart(await write('bad.json', value), folder))
  expect(problem.code).toBe('part-invalid')
  expect(problem.message).toMatch(sentence)
  expect(problem.message).toContain(join(folder, 'bad.json'))
})

test('many mistakes are counted, not listed', async () => {
  const problem = await problemOf(
    readPart(await write('bad.json', { a: 1, kind: 1, rated: { value: 0 }, lot: 3 }), folder),
  )
  expect(problem.message).toMatch(/; and \d more\.$/)
})

test.each([
  [
    'no accuracy in range',
    { manometer: { ...manometer, suctionSign: 0 } },
    /sign \(manometer\.suctionSign\) is 0; it must be -1 or 1/,
  ],
  [
    'a wrong port setting',
    { manometer: { ...manometer, port: { dataBits: 9 } } },
    /data bits \(manometer\.port\.dataBits\) is 9; it must be 7 or 8/,
  ],
  [
    'a date by hand',
    { manometer: { ...manometer, identity: { due: '31.3.27' } } },
    /due \(manometer\.identity\.due\) is "31\.3\.27"; it must be a date, such as "2027-03-31"/,
  ],
  [
    'a share in percent',
    { manometer: { ...manometer, accuracy: { ofReading: 0, ofFullScale: 2, fullScale: { value: 2, unit: 'Pa' } } } },
    /of scale \(manometer\.accuracy\.ofFullScale\) is 2 \(200 %\); it must be at most 1 \(100 %\); 2 % is 0\.02\.$/,
  ],
  [
    'a certificate of one point',
    {
      manometer: {
        ...manometer,
        calibration: { unit: 'Pa', drift: 0, points: [{ reading: 0, correction: 0, U: 1 }] },
      },
    },
    /calibration points \(manometer\.calibration\.points\): there is 1, and there must be at least 2\.$/,
  ],
  [
    'a point without its correction',
    {
      manometer: {
        ...manometer,
        calibration: {
          unit: 'Pa',
          drift: 0,
          points: [
            { reading: 0, correction: 0, U: 1 },
            { reading: 9, U: 1 },
          ],
        },
      },
    },
    /calibration point 2 correction \(manometer\.calibration\.points\.1\.correction\) is missing; it must be a number/,
  ],
  [
    'a point whose U is negative',
    {
      manometer: {
        ...manometer,
        calibration: {
          unit: 'Pa',
          drift: 0,
          points: [
            { reading: 0, correction: 0, U: -1 },
            { reading: 9, correction: 0, U: 1 },
          ],
        },
      },
    },
    /point 1 U .* is -1 Pa; it must be at least 0 Pa\.$/,
  ],
  ['no meter', { meter: undefined }, /a rig needs a manometer and a meter, or a bridge/],
  [
    'thresholds upside down',
    { meter: { ...rig.meter, closedBelowOhm: 2000 } },
    /closed below \(meter\.closedBelowOhm\): 2000 ohm is not below the 1000 ohm above which it is open/,
  ],
  [
    'an option that the driver lacks',
    { meter: { ...rig.meter, options: { baud: 1 } } },
    /meter: The driver "test-line" has no option "baud"; it has unit, intervalMs, command/,
  ],
  [
    'an option out of range',
    { meter: { ...rig.meter, options: { intervalMs: 1 } } },
    /"intervalMs" of the driver "test-line" is 1; it must be a number from 20 to 1000 ms/,
  ],
  [
    'an option that is no choice',
    { meter: { ...rig.meter, options: { unit: 'psi' } } },
    /"unit" of .* is "psi"; it must be one of Pa, kPa/,
  ],
  [
    'an option of the wrong kind',
    { meter: { ...rig.meter, options: { command: 3 } } },
    /"command" of .* is 3; it must be a text/,
  ],
])('a rig file with %s is refused', async (_, change, sentence) => {
  const problem = await problemOf(readRig(await write('bad.json', { ...rig, ...change }), folder, drivers))
  expect(problem.code).toBe('rig-invalid')
  expect(problem.message).toMatch(sentence)
})

test('a driver that does not exist is named beside those that do', async () => {
  const path = await write('bad.json', { ...rig, meter: { ...rig.meter, driver: 'nonesuch' } })
  const problem = await problemOf(readRig(path, folder, drivers))
  expect(problem.message).toMatch(/meter\.driver is "nonesuch"; the drivers here are test-line\.$/)
  expect(problem.exitCode).toBe(65)
})

test('a JSON mistake is shown by line and column', async () => {
  const problem = await problemOf(readPart(await write('bad.json', '{\n  "kind": "draft-proving",\n}'), folder))
  expect(problem.code).toBe('not-json')
  expect(problem.message).toMatch(/bad\.json, line 2, column 26: a comma before } is one too many\.$/)
})

test('an empty file, bytes that are not text, a folder and a huge file are each refused in words', async () => {
  expect((await problemOf(readPart(await write('empty.json', ' \n'), folder))).message).toMatch(/is empty/)
  expect((await problemOf(readPart(await write('b.json', Uint8Array.of(0xff, 0xfe, 0x00)), folder))).message).toMatch(
    /UTF-8/,
  )
  expect((await problemOf(readPart(await write('huge.json', ' '.repeat(1_000_001)), folder))).message).toMatch(
    /1000001 bytes/,
  )
  await mkdir(join(folder, 'sub.json'), { recursive: true })
  expect((await problemOf(readPart(join(folder, 'sub.json'), folder))).code).toBe('file-unreadable')
})

test('a name that is not there is answered with those that are', async () => {
  const problem = await problemOf(readPart('nonesuch', folder))
  expect(problem.message).toMatch(/No part is named "nonesuch": .* holds .*dp62/)
  expect((await problemOf(readPart('x', join(folder, 'absent')))).message).toMatch(/holds no part yet/)
  expect((await problemOf(readPart('./x.json', folder))).message).toMatch(/no part file \.\/x\.json/)
})

test('of many names those are told that begin as the one given does', async () => {
  const many = join(folder, 'many')
  await mkdir(many, { recursive: true })
  for (const name of ['a1', 'b1', 'c1', 'dp50', 'dp62', 'e1', 'f1', 'g1', 'h1', 'i1'])
    await writeFile(join(many, `${name}.json`), '{}')
  const { message } = await problemOf(readPart('dp63', many))
  expect(message).toMatch(/holds dp62, dp50, .* and 2 more\.$/)
})

test('an escape sequence in a name is shown, not sent', async () => {
  expect((await problemOf(readPart('\u001b[2J', folder))).message).toContain('\\u001b[2J')
})
