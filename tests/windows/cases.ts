// The built program on Windows, case by case: `npm run try:windows` runs it under Wine, `node tests/windows/cases.ts` on Windows itself.
import assert from 'node:assert/strict'
import { fork } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { after, describe, test } from 'node:test'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { pretendNode } from '../harness/pretend-node.ts'
import { environmentIn, type Program, programPath, runProgram, startProgram } from '../harness/run-program.ts'
import { until } from '../harness/until.ts'
import type { Given } from './given.ts'

/** What the system around Wine has made ready; nothing on Windows itself. */
const given: Partial<Given> = JSON.parse(process.env['MAKEBREAK_GIVEN'] ?? '{}')

const folder = mkdtempSync(join(tmpdir(), 'makebreak-'))
after(() => rmSync(folder, { recursive: true, force: true, maxRetries: 9 }))
process.env['APPDATA'] = join(folder, 'Roaming')
process.env['LOCALAPPDATA'] = join(folder, 'Local')
const config = join(folder, 'Roaming', 'makebreak', 'Config')
const data = join(folder, 'Local', 'makebreak', 'Data', 'recordings')
// The launcher looks for the pinned Node there too: under Wine it is not installed beside the program.
process.env['NODE_PATH'] = join(dirname(process.execPath), '..', '..')

const golden = fileURLToPath(new URL('../../recordings', import.meta.url))
const recording = (name: string) => join(golden, name)
const run = (...args: string[]) => runProgram(folder, args)

const accuracy = {
  ofReading: 0.005,
  ofFullScale: 0,
  fullScale: { value: 1000, unit: 'Pa' },
  distribution: 'rectangular',
}
const rigAt = (manometer: string, meter: string, baudRate?: number) => ({
  manometer: {
    ...{ driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' }, accuracy },
    port: { path: manometer, baudRate },
  },
  meter: {
    ...{ driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no' },
    port: { path: meter, baudRate },
  },
})
function writeJson(path: string, value: unknown): string {
  mkdirSync(dirname(path), { recursive: true })
  writeFileSync(path, JSON.stringify(value))
  return path
}
const simulated = simulatedPath('good', 1, 5, 'screen')
writeJson(join(config, 'rigs', 'bench.json'), rigAt(simulated, simulated))
writeJson(join(config, 'parts', 'switch.json'), {
  kind: 'draft-proving',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: 55, high: 70, unit: 'Pa' } },
})

/** The only recording in `where`. */
function onlyRecording(where: string): string {
  const names = readdirSync(where).filter((name) => name.endsWith('.run'))
  assert.equal(names.length, 1)
  return join(where, names[0]!)
}

/** A test that was judged is judged again alike, and its file is whole. */
async function expectJudged(path: string, { out, status }: { out: string; status: number | null }): Promise<void> {
  const [, verdict] = /^Verdict: (PASS|UNDECIDED)$/m.exec(out) ?? []
  // How fast this machine is decides which of the two: a good part never fails.
  assert.equal(status, verdict === 'PASS' ? 0 : 2, out)
  const checked = await run('check', path)
  assert.deepEqual(checked, { status: 0, signal: null, out: `${path}: whole, sealed\n`, err: '' })
  const again = await run('replay', path)
  assert.equal(again.status, status)
  assert.ok(again.out.includes(`Verdict: ${verdict}`), again.out)
}

test('it starts, and says its version and its help', async () => {
  assert.deepEqual(await run('--version'), { status: 0, signal: null, out: '0.1.0\n', err: '' })
  assert.match((await run('run', '--help')).out, /^Usage: makebreak run/)
})

test('the recordings of the project replay to what is expected of them', async () => {
  const names = readdirSync(golden).filter((name) => name.endsWith('.run'))
  const { out, err } = await run('replay', ...names.map(recording), '--json')
  assert.equal(err, '')
  const results = out.trimEnd().split('\n')
  assert.equal(results.length, names.length)
  for (const [i, line] of results.entries()) {
    const expected = JSON.parse(readFileSync(recording(names[i]!.replace(/run$/, 'expected.json')), 'utf8'))
    assert.equal(JSON.parse(line).verdict, expected.verdict)
  }
  if (given.replayed === undefined) return
  const withoutFile = (text: string) => text.replaceAll(/"file":"(?:[^"\\]|\\.)*"/g, '"file":""')
  assert.equal(withoutFile(out), withoutFile(readFileSync(given.replayed, 'utf8')))
})

describe('exit statuses', () => {
  const blocked = join(folder, 'blocked')
  writeFileSync(blocked, '')
  for (const [status, ...args] of [
    [0, 'check', recording('good-1.run')],
    [1, 'replay', recording('off-high-2.run')],
    [2, 'check', recording('torn-tail.run')],
    [64, 'nonesuch'],
    [65, 'check', 'absent.run'],
    [69, 'simulate', '--serve'],
    [72, 'run', '--rig', 'bench', '--plain', '--data-dir', join(blocked, 'data')],
  ] as const)
    test(`${args.join(' ')}: ${status}`, async () => {
      const ended = await run(...args)
      assert.equal(ended.status, status, ended.err)
      assert.doesNotMatch(ended.err, /^ +at /m)
    })
  test('no Node that fits: 78', async () => {
    const env = { ...environmentIn(folder), MAKEBREAK_RELAUNCHED: '1' }
    const child = fork(programPath, ['ports'], { env, execArgv: pretendNode(folder, '20.20.2'), silent: true })
    assert.equal(await new Promise((done) => child.on('exit', done)), 78)
  })
})

describe('a simulated test in two processes', () => {
  test('goes to its verdict, with part and rig by name and its recording in the folder of this user', async () => {
    const ended = await run('run', '--rig', 'bench', '--part', 'switch', '--plain')
    await expectJudged(onlyRecording(data), ended)
  })

  /** A test that has readings, its recording in `name`. */
  async function startTest(name: string, nodeArgs: readonly string[]): Promise<Program> {
    const program = startProgram(folder, ['run', '--rig', 'bench', '--plain', '--data-dir', name], nodeArgs)
    await until(() => program.out().includes('Phase: zero.'), 'readings')
    return program
  }
  async function expectAbandoned(name: string): Promise<void> {
    const path = onlyRecording(join(folder, name))
    const sealed = await until(async () => {
      const checked = await run('check', path)
      return checked.status === 0 && checked.out
    }, 'the seal')
    assert.equal(sealed, `${path}: whole, sealed\n`)
    assert.match((await run('replay', path)).out, /abandoned/)
  }

  test('Ctrl-C through the launcher gives it up and seals it', async () => {
    // The launcher hears Ctrl-C from its console, which no program can press for it: here a file takes its place.
    const pressed = join(folder, 'pressed')
    const key = join(folder, 'key.mjs')
    writeFileSync(
      key,
      `import { existsSync } from 'node:fs'
const looking = setInterval(() => existsSync(${JSON.stringify(pressed)}) && (clearInterval(looking), process.emit('SIGINT')), 50)\n`,
    )
    const program = await startTest('given-up', [
      ...pretendNode(folder, '20.20.2'),
      ...['--import', pathToFileURL(key).href],
    ])
    writeFileSync(pressed, '')
    const { out } = await program.ended
    assert.match(out, /abandoned/)
    await expectAbandoned('given-up')
  })

  test('a launcher that is killed ends it, and its recording is sealed', async () => {
    const program = await startTest('killed', pretendNode(folder, '20.20.2'))
    program.child.kill('SIGKILL')
    await program.ended
    await expectAbandoned('killed')
  })

  test('a screen process that is killed leaves a sealed recording', async () => {
    const program = await startTest('screen-killed', [])
    program.child.kill('SIGKILL')
    await program.ended
    await expectAbandoned('screen-killed')
  })
})

describe('serial ports', () => {
  test('they are listed', async () => {
    const { status, out, err } = await run('ports')
    assert.deepEqual([status, err], [0, ''])
    assert.match(out, /^(COM\d+|No serial port found\.)/)
  })

  test('one that is not there is named, with the next step', async () => {
    const { out } = await run('ports', 'COM77', '--listen', '1')
    assert.match(out, /Port COM77 not found\. Plug the adapter in/)
  })

  test('a test on ports that are not there ends with status 69', async () => {
    const rig = writeJson(join(folder, 'absent.json'), rigAt('COM77', 'COM78', 9600))
    const ended = await run('run', '--rig', rig, '--plain', '--data-dir', 'absent')
    assert.equal(ended.status, 69, ended.out + ended.err)
    assert.match(ended.err, /^makebreak: Port COM7[78] not found\.\nPlug the adapter in/)
  })

  test('COM3 and com3 are one port', async () => {
    const rig = writeJson(join(folder, 'twice.json'), rigAt('COM3', 'com3', 9600))
    const ended = await run('run', '--rig', rig, '--plain')
    assert.equal(ended.status, 65)
    assert.match(ended.err, /manometer and meter are both on the port com3/)
  })

  const needsPorts = { skip: given.ports === undefined && 'no instruments are offered on COM ports' }
  // Its hand goes by its plan from the first question on, so this comes first.
  test('a whole test on COM ports goes to its verdict', needsPorts, async (t) => {
    const { part, rig } = given.ports!
    const program = startProgram(folder, ['run', '--part', part, '--rig', rig, '--plain', '--data-dir', 'served'])
    // A hand that has gone by its plan waits no more; a test that waits for it would wait for ever.
    setTimeout(() => program.child.kill(), 1_200_000).unref()
    t.after(() => program.child.kill())
    const ended = await program.ended
    assert.equal(ended.err, '')
    await expectJudged(onlyRecording(join(folder, 'served')), ended)
  })

  test('what an instrument sends to a COM port is heard', needsPorts, async () => {
    const { out } = await run('ports', given.ports!.manometer, '--listen', '3')
    assert.match(out, /\d+ bytes in 3 s/)
    assert.match(out, /reads \d+ of \d+ frames as pressure/)
  })
})
