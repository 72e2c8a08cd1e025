// Commands that work out recordings, or look at a rig, where a user's own driver misbehaves: one sentence, and a status that is no verdict.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { encodeLine } from '../../src/recording/format.ts'
import { driverFolder, type Parts } from '../harness/driver-folder.ts'
import { doing, waiting } from '../harness/own-driver.ts'
import { runProgram } from '../harness/run-program.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const root = temporaryFolder()

/** What each command is given; `own.run`, part and rig are in the folder. */
const commands = {
  check: ['check', 'own.run'],
  replay: ['replay', 'own.run'],
  'replay --json': ['replay', '--json', 'own.run', 'own.run'],
  'replay --watch': ['replay', '--watch', '--speed', '1000', 'own.run'],
  curve: ['curve', 'own.run', '--out', 'drawn'],
  'rig lag': ['rig', 'lag', 'own.run'],
  capability: ['capability', '--part', 'part.json', '--rig', 'rig.json'],
  'plan-bench': ['plan-bench', '--part', 'part.json', '--rig', 'rig.json'],
  'driver list': ['driver', 'list'],
} as const
type Command = keyof typeof commands
const names = Object.keys(commands) as Command[]
/** Those that give the driver bytes. */
const decoding = names.slice(0, names.indexOf('capability'))

/** What the built program says of a command in a folder whose recording and rig need the driver. */
async function ran(command: Command, does: string, parts: Parts) {
  const { folder, id } = driverFolder(root, `${command.replaceAll(' --', ' ')} ${does}`, parts)
  const manometer = {
    ...sampleStart.rig.manometer,
    driver: id,
    accuracy: { ofReading: 0, ofFullScale: 0.002, fullScale: { value: 250, unit: 'Pa' } },
  }
  const rig = { ...sampleStart.rig, manometer }
  writeFileSync(join(folder, 'part.json'), JSON.stringify(sampleStart.part))
  writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
  const lines = [
    { type: 'start', format: 1, ...sampleStart, rig },
    ...Array.from({ length: 40 }, (_, i) => ({
      type: 'rx',
      t: i * 100_000,
      port: 'manometer',
      text: `${i % 7} Pa\r\n`,
    })),
    { type: 'end', t: 4_000_000, reason: 'finished' },
    { type: 'verdict', t: 4_000_000, result: { verdict: 'pass' } },
  ]
  writeFileSync(join(folder, 'own.run'), Buffer.concat(lines.map(encodeLine)))
  return { id, ...(await runProgram(folder, commands[command])) }
}

const rowsOf = (of: readonly Command[], bad: readonly (readonly [does: string, parts: Parts, sentence: string])[]) =>
  of.flatMap((command) => bad.map(([does, parts, sentence]) => [command, does, parts, sentence] as const))

const filled =
  '(took more than 1000 MB of memory|took more memory than a thread may have|gave no answer for 5 s) and was ended'

const silent = 'gave no answer for 5 s and was ended'

describe.concurrent('With a driver that', () => {
  test.for([
    ...rowsOf(decoding, [
      ['ends the program in decode', { decode: doing('process.exit(0)') }, 'ended the program with process\\.exit'],
    ]),
    ...rowsOf(['check'], [['never comes back from decode', { decode: doing('') }, silent]]),
    ...rowsOf(['replay', 'curve'], [['waits in decode for good', { decode: doing(waiting) }, silent]]),
    ...rowsOf(['check'], [['fills the heap', { decode: doing('kept.push(new Array(1e7).fill(1.5))') }, filled]]),
    ...rowsOf(
      ['replay'],
      [['fills memory with Buffers', { decode: doing('kept.push(Buffer.alloc(1e8, 1))') }, filled]],
    ),
  ])('%s: %s', async ([command, does, parts, sentence]) => {
    const { id, status, out, err } = await ran(command, does, parts)
    expect(err).toMatch(
      new RegExp(`^makebreak: The driver "${id}" ${sentence}\\.\nCorrect or remove that driver file.*\n$`),
    )
    expect(status).toBe(65)
    expect(out).not.toMatch(/verdict|PASS|whole/i)
  })

  test.for([
    ...rowsOf(names, [
      ['ends the program as it loads', { top: 'process.exit(0)' }, 'ended the program with process\\.exit'],
    ]),
    ...rowsOf(['check'], [['never comes back as it loads', { top: 'for (;;);' }, silent]]),
    ...rowsOf(['capability'], [['waits for good as it loads', { top: waiting }, silent]]),
  ])('%s: %s, and is told by its file', async ([command, does, parts, sentence]) => {
    const { id, status, out, err } = await ran(command, does, parts)
    expect(err).toMatch(
      new RegExp(
        `^makebreak: .*${id}\\.mjs does not load: The driver "${id}" ${sentence}\\.\nCorrect or remove that driver file.*\n$`,
      ),
    )
    expect({ status, out }).toEqual({ status: 65, out: '' })
  })
})

describe.concurrent('With a driver that keeps to the contract each command prints and ends as it does without a thread:', () => {
  test.for([
    ['check', 2, /^own\.run: no seal at its end/],
    ['replay', 2, /^own\.run: [\s\S]*Verdict/i],
    ['replay --json', 2, /^\{"file":"own\.run",.*\}\n\{"file":"own\.run",.*\}\n$/],
    ['curve', 0, /^drawn.own-pressure\.svg\n/],
    ['rig lag', 2, /^own\.run: left out: [\s\S]*No recording shows the lag\.\n$/],
    ['capability', 0, /^DP-62 on /],
    ['plan-bench', 0, /./],
    ['driver list', 0, /^ascii-line +./],
  ] as const)('%s', async ([command, status, out]) => {
    const ended = await ran(command, 'is good', {})
    expect({ status: ended.status, err: ended.err }).toEqual({ status, err: '' })
    expect(ended.out).toMatch(out)
  })

  test('a simulated test in virtual time runs none of their code', async () => {
    const { folder } = driverFolder(root, 'run in virtual time', { top: 'process.exit(3)' })
    const { status, out, err } = await runProgram(folder, ['run', '--data-dir', 'out'])
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toMatch(/virtual time/)
  })

  test('a mistake in the options is told as ever', async () => {
    const { folder } = driverFolder(root, 'mistaken options', {})
    const { status, out, err } = await runProgram(folder, ['replay', '--speed', '2', 'own.run'])
    expect({ status, out }).toEqual({ status: 64, out: '' })
    expect(err).toBe('makebreak: --speed is for --watch only.\nRun `makebreak replay --help` to see what it takes.\n')
  })
})
