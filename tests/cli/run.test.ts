// `run` as a user meets it: the simulated bench without a terminal, and real ports that are not as they should be.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { type Program, runProgram, startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial, type VirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()

const part = {
  kind: 'draft-proving',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: 55, high: 70, unit: 'Pa' } },
}
writeFileSync(join(folder, 'part.json'), JSON.stringify(part))

/** Two instruments that say what they are told to, ten times a second. */
function plugIn(
  name: string,
  says: { manometer: string | null; meter: string | null },
): { rig: string; unplug: () => void } {
  const device = (role: 'manometer' | 'meter'): VirtualSerial => {
    const port = createVirtualSerial(join(folder, `${name}-${role}`))
    port.plug()
    return port
  }
  const [manometer, meter] = [device('manometer'), device('meter')]
  const talking = setInterval(() => {
    if (says.manometer !== null) manometer.write(says.manometer)
    if (says.meter !== null) meter.write(says.meter)
  }, 100)
  const rig = {
    manometer: {
      driver: 'ascii-line',
      suctionSign: -1,
      digit: { value: 0.1, unit: 'Pa' },
      port: { path: manometer.path, baudRate: 9600 },
    },
    meter: { driver: 'ascii-line', pair: 'com-no', port: { path: meter.path, baudRate: 9600 } },
  }
  writeFileSync(join(folder, `${name}.json`), JSON.stringify(rig))
  return {
    rig: `${name}.json`,
    unplug() {
      clearInterval(talking)
      manometer.unplug()
      meter.unplug()
    },
  }
}

const run = (rig: string, ...more: string[]) => [
  'run',
  '--part',
  'part.json',
  '--rig',
  rig,
  '--data-dir',
  'data',
  '--plain',
  ...more,
]

/** Both ports are read from then on. */
async function untilMeasuring(program: Program): Promise<void> {
  while (!/Phase: (zero|first stroke)\./.test(program.out())) await new Promise((done) => setTimeout(done, 20))
}

test('without a rig and a terminal the simulated bench is tested to its verdict, and its recording is named', async () => {
  const { status, out, err } = await runProgram(folder, [])
  expect(err).toBe('')
  expect(status).toBe(0)
  expect(out).toMatch(
    /^Before the test: this rig can decide the part\. Differential: U .*passes .*of good parts would be undecided\.$/m,
  )
  expect(out).toMatch(/^Verdict: PASS$/m)
  expect(out).toMatch(/^Next: Simulated, no real part tested: Label/m)
  const path = /^Recording: (.*)$/m.exec(out)?.[1] ?? ''
  expect(dirname(path)).toBe(join(folder, 'home', 'data', 'makebreak', 'recordings'))
  const again = await runCommand(folder, ['replay', path])
  expect(again.status).toBe(0)
  expect(out).toContain(again.out.trim().split('\n').slice(1).join('\n'))
})

test('what was said at the end stands in the recording as replay says it again', async () => {
  const { status } = await runCommand(folder, [
    ...['run', '--data-dir', 'kept', '--serial', '../../x', '--customer', 'Stove shop'],
  ])
  expect(status).toBe(0)
  const [name = ''] = readdirSync(join(folder, 'kept'))
  expect(name).toMatch(/^\d{8}-\d{6}Z-x-[0-9a-f]{6}\.run$/)
  const lines = readFileSync(join(folder, 'kept', name), 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line.slice(9)))
  expect(lines[0].job).toEqual({ customer: 'Stove shop', order: null })
  const recorded = lines.find((event) => event.type === 'verdict').result
  const { out } = await runCommand(folder, ['replay', join('kept', name), '--json'])
  const { file, ...replayed } = JSON.parse(out)
  expect(file).toBe(join('kept', name))
  const { version } = JSON.parse(readFileSync(join(import.meta.dirname, '../../package.json'), 'utf8'))
  expect(replayed).toEqual({ ...recorded, recorded: { verdict: 'pass', software: version } })
  expect(replayed).toMatchObject({
    verdict: 'pass',
    findings: [],
    damage: { torn: false, corruptLines: [], seal: 'intact' },
  })
})

test('a port that another program holds is refused with status 69', async () => {
  const bench = plugIn('held', { manometer: '0.0 Pa\r\n', meter: 'OL\r\n' })
  const holder = startProgram(folder, ['ports', join(folder, 'held-manometer'), '--listen', '600'])
  while (!holder.out().includes('held-manometer')) await new Promise((done) => setTimeout(done, 20))
  await new Promise((done) => setTimeout(done, 500))
  const ended = await runProgram(folder, run(bench.rig))
  holder.child.kill()
  bench.unplug()
  expect(ended.err).toMatch(
    /^makebreak: The port .*held-manometer is in use by another program\.\nClose the other program/,
  )
  expect(ended.status).toBe(69)
})

// Each of them is waited for: together they take as long as one.
test.concurrent.each([
  [
    'a silent instrument',
    { manometer: '0.0 Pa\r\n', meter: null },
    /^makebreak: The meter on .* at 9600 baud has sent nothing that can be read for \d+ s\.\nSwitch the instrument on/,
  ],
  [
    'noise, as at a wrong baud rate',
    { manometer: '\u0080\u00f8\u0000\u00ff\r\n', meter: 'OL\r\n' },
    /^makebreak: The manometer on .* at 9600 baud has sent no reading for \d+ s.*\nCheck the baud rate/,
  ],
  [
    'a flood of text without a line end',
    { manometer: 'wxyz'.repeat(500), meter: 'OL\r\n' },
    /^makebreak: The manometer on .* at 9600 baud has sent no reading for \d+ s.*\nCheck the baud rate/,
  ],
  [
    'a reading that is no number',
    { manometer: 'NaN Pa\r\n', meter: 'OL\r\n' },
    /^makebreak: The manometer on .* at 9600 baud has sent nothing that can be read for \d+ s\.\nSwitch the instrument on/,
  ],
  [
    'instruments exchanged',
    { manometer: '0.31 ohm\r\n', meter: '-12.5 Pa\r\n' },
    /^makebreak: The manometer on .* sends what the other instrument should.*\nExchange the two port paths/,
  ],
])('%s is refused with status 69, and the recording is sealed', async (name, says, sentence) => {
  const data = name.replaceAll(/\W+/g, '-')
  const bench = plugIn(data, says)
  const ended = await runProgram(folder, run(bench.rig, '--data-dir', data))
  bench.unplug()
  expect(ended.err).toMatch(sentence)
  expect(ended.status).toBe(69)
  const [recording = ''] = readdirSync(join(folder, data))
  const { out } = await runCommand(folder, ['check', join(data, recording)])
  expect(out).toContain(`${join(data, recording)}: whole, sealed; signed by the key of this bench, `)
})

test.concurrent('escape sequences from an instrument reach the recording, never the terminal', async () => {
  const bench = plugIn('escape', { manometer: '\u001b[2J\u001b]0;x\u0007\r\n', meter: 'OL\r\n' })
  const ended = await runProgram(folder, run(bench.rig, '--data-dir', 'escape-data'))
  bench.unplug()
  expect(ended.status).toBe(69)
  expect(ended.out + ended.err).not.toMatch(new RegExp(`[${String.fromCharCode(27, 7)}]`))
  const [recording = ''] = readdirSync(join(folder, 'escape-data'))
  expect(readFileSync(join(folder, 'escape-data', recording), 'utf8')).toContain(btoa('\u001b[2J\u001b]0;x\u0007\r\n'))
})

test('that no result could pass is said before the test, with the reason, and the test goes on', async () => {
  const bench = plugIn('unfit', { manometer: '0.0 Pa\r\n', meter: 'OL\r\n' })
  const program = startProgram(folder, run(bench.rig, '--data-dir', 'unfit'))
  await untilMeasuring(program)
  program.child.kill('SIGINT')
  const { out, status } = await program.ended
  bench.unplug()
  const lines = out.split('\n')
  const at = lines.findIndex((line) => line.startsWith('Before the test: NO RESULT COULD PASS on this rig.'))
  expect(at).toBe(1)
  expect(lines[at + 1]).toBe(
    'The rig file states neither accuracy nor calibration of the manometer: nothing can be assessed.',
  )
  expect(status).toBe(2)
})

test('Ctrl-C ends a free recording as finished and any other as abandoned, sealed both times', async () => {
  const bench = plugIn('stopped', { manometer: '0.0 Pa\r\n', meter: 'OL\r\n' })
  for (const [purpose, reason] of [
    ['free', 'finished'],
    ['certify', 'abandoned'],
  ]) {
    const data = `stopped-${purpose}`
    const program = startProgram(folder, run(bench.rig, '--data-dir', data, '--purpose', purpose!))
    await untilMeasuring(program)
    program.child.kill('SIGINT')
    program.child.kill('SIGINT')
    const { status, out } = await program.ended
    expect(status).toBe(2)
    expect(out).toMatch(/^Verdict: (NOT ASSESSED|UNDECIDED)$/m)
    const path = /^Recording: (.*)$/m.exec(out)?.[1] ?? ''
    expect(existsSync(path)).toBe(true)
    const text = readFileSync(path, 'utf8')
    expect(text).toContain(`"type":"end"`)
    expect(/"type":"end".*"reason":"(\w+)"/.exec(text)?.[1]).toBe(reason)
    expect((await runCommand(folder, ['check', path])).status).toBe(0)
  }
  bench.unplug()
})

// The other process is found where Linux lists the children of a process.
test.runIf(process.platform === 'linux')(
  'when the recording process is killed, that is said with status 70, and its file is sealed as abandoned',
  async () => {
    const bench = plugIn('killed', { manometer: '0.0 Pa\r\n', meter: 'OL\r\n' })
    const program = startProgram(folder, run(bench.rig, '--data-dir', 'killed-data'))
    await untilMeasuring(program)
    const pid = program.child.pid
    const [recorder] = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ')
    process.kill(Number(recorder), 'SIGKILL')
    const { status, err } = await program.ended
    bench.unplug()
    expect(status).toBe(70)
    const [recording = ''] = readdirSync(join(folder, 'killed-data'))
    const path = join('killed-data', recording)
    const said = `The recording process ended early (SIGKILL); the recording ${join(folder, path)} is sealed as abandoned.`
    expect(err).toBe(`makebreak: ${said}\nWhat was recorded is whole on disk; start the test again.\n`)
    const checked = await runCommand(folder, ['check', path])
    expect(checked.status).toBe(0)
    // Who signs was killed; another sealed it.
    expect(checked.out).toContain(`${path}: whole, sealed; not signed although its bench signs: `)
    const replayed = await runCommand(folder, ['replay', path])
    expect(replayed.out).toContain('The test was abandoned.')
  },
)

test.runIf(process.platform === 'linux')(
  'a recording process that is killed before a byte has come leaves its file too: only a port that did not open leaves none',
  async () => {
    const bench = plugIn('mute', { manometer: null, meter: null })
    const program = startProgram(folder, run(bench.rig, '--data-dir', 'mute-data'))
    await until(() => program.out().includes('manometer open'), 'the ports to open')
    const pid = program.child.pid
    const [recorder] = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ')
    process.kill(Number(recorder), 'SIGKILL')
    const { status } = await program.ended
    bench.unplug()
    expect(status).toBe(70)
    expect(readdirSync(join(folder, 'mute-data'))).toHaveLength(1)
  },
)
