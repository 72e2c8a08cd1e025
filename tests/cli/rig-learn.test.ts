// `rig learn` as a user meets it: what is asked and told, a display that differs, ports that do not open, and how it ends.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { openLine } from '../../src/commands/open-line.ts'
import { programPath, runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { startTerminal, type Terminal } from '../harness/terminal.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()
let count = 0

/** An instrument that sends what `line` says, ten times a second. */
function plugIn(line: () => string): string {
  const device = createVirtualSerial(join(folder, `port-${count++}`))
  device.plug()
  const talking = setInterval(() => device.write(line()), 100)
  onTestFinished(() => {
    clearInterval(talking)
    device.unplug()
  })
  return device.path
}

function learn(...args: string[]): Terminal {
  const terminal = startTerminal([process.execPath, programPath, 'rig', 'learn', ...args], {
    folder,
    rows: 60,
    columns: 200,
  })
  onTestFinished(() => {
    if (terminal.exit() === null) terminal.kill()
  })
  return terminal
}

const ended = async (terminal: Terminal) => {
  await terminal.until(() => terminal.exit(), 'the program to end', 20_000)
  return terminal.exit()?.exitCode
}

describe.skipIf(process.platform === 'win32')('learning a line', () => {
  test('a display that differs is told with both numbers, and nothing is written until one agrees', async () => {
    let shown = '0.0 Pa'
    const file = join(folder, 'differs.json')
    const terminal = learn(
      '--port',
      plugIn(() => `${shown}\r\n`),
      '--rig',
      file,
    )
    await terminal.see('[Enter: 0.0 Pa]')
    terminal.key('\r')
    await terminal.see('Pull a little suction')
    shown = '61.8 Pa'
    await new Promise((done) => setTimeout(done, 1500))
    // A colleague reads the display of the other manometer.
    terminal.key('-2.4\r')
    await terminal.see('The display shows -2.4 and 61.8 Pa was read: they do not agree.')
    terminal.key('0.1\r')
    await terminal.see('too near to what it showed before')
    expect(existsSync(file)).toBe(false)
    terminal.key('61.8\r')
    await terminal.see('61.8 Pa agrees: suction reads positive')
    terminal.key('\r')
    expect(await ended(terminal)).toBe(0)
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({
      manometer: { driver: 'ascii-line', suctionSign: 1, digit: { value: 0.1, unit: 'Pa' } },
    })
    expect(terminal.output()).toContain('for the meter.')
  })

  test('a bare number is asked for: what it measures, and its unit', async () => {
    let shown = '0.001'
    const file = join(folder, 'bare.json')
    const terminal = learn(
      '--port',
      plugIn(() => `${shown}\r\n`),
      '--rig',
      file,
    )
    await terminal.see('a manometer or a meter?')
    terminal.key('manometer\r')
    await terminal.see('The line does not say its unit')
    await terminal.see('[such as 0.000 inH2O]')
    terminal.key('0.001\r')
    await terminal.see('Type its unit as well')
    terminal.key('0.001 in wc\r')
    await terminal.see('Pull a little suction')
    shown = '-0.250'
    await new Promise((done) => setTimeout(done, 1500))
    terminal.key('-0.250\r')
    await terminal.see('-0.250 inH2O agrees')
    await terminal.see('Its accuracy')
    terminal.key('5\r')
    await terminal.see('Type it with its percent sign')
    terminal.key('0.2 % of reading + 0.3 %\r')
    await terminal.see('Its full scale')
    terminal.key('10\r')
    expect(await ended(terminal)).toBe(0)
    expect(JSON.parse(readFileSync(file, 'utf8')).manometer).toMatchObject({
      options: { unit: 'inH2O' },
      accuracy: { ofReading: 0.002, ofFullScale: 0.003, fullScale: { value: 10, unit: 'inH2O' } },
    })
  })

  test('an instrument that is in the file is replaced only where that is agreed to', async () => {
    const file = join(folder, 'taken.json')
    const text = '{ "manometer": { "driver": "ascii-line" } }'
    writeFileSync(file, text)
    const terminal = learn(
      '--port',
      plugIn(() => '0.0 Pa\r\n'),
      '--rig',
      file,
    )
    await terminal.see('Replace it, with its accuracy and its certificate?')
    terminal.key('no\r')
    expect(await ended(terminal)).toBe(64)
    expect(readFileSync(file, 'utf8')).toBe(text)
  })

  test.each([
    ['while it listens', 'listening'],
    ['while it asks the person', 'What does its display show?'],
  ])('Ctrl-C ends it %s, and nothing is written', async (_, sight) => {
    const file = join(folder, `stopped-${count}.json`)
    const terminal = learn(
      '--port',
      plugIn(() => '0.0 Pa\r\n'),
      '--rig',
      file,
    )
    await terminal.see(sight)
    terminal.key('\x03')
    expect(await ended(terminal)).toBe(130)
    expect(terminal.screen()).toContain('Stopped. Nothing more was written.')
    expect(existsSync(file)).toBe(false)
  })

  test('a port that goes away while the person looks is told', async () => {
    const device = createVirtualSerial(join(folder, 'leaves'))
    device.plug()
    const talking = setInterval(() => device.write('0.0 Pa\r\n'), 100)
    const terminal = learn('--port', device.path, '--rig', join(folder, 'leaves.json'))
    await terminal.see('[Enter: 0.0 Pa]')
    clearInterval(talking)
    device.unplug()
    terminal.key('12 Pa\r')
    expect(await ended(terminal)).toBe(69)
    expect(terminal.screen()).toMatch(/leaves went away/)
  })

  test('a port in use is told', async () => {
    const path = plugIn(() => '0.0 Pa\r\n')
    const other = await openLine(path, { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 })
    const { status, err } = await runProgram(folder, ['rig', 'learn', '--port', path])
    expect({ status, err }).toMatchObject({ status: 69, err: expect.stringContaining('is in use by another program') })
    await other.close()
  })

  test('without anybody to answer it says so', async () => {
    const { status, err } = await runProgram(folder, ['rig', 'learn', '--port', plugIn(() => '0.0 Pa\r\n')])
    expect({ status, err }).toMatchObject({ status: 64, err: expect.stringContaining('The input ended') })
  })
})

test.each([
  [['--port', '/dev/nonesuch'], 69, /Port \/dev\/nonesuch not found/],
  [['--port'], 64, /argument missing/],
  [['--nonesuch'], 64, /unknown option '--nonesuch'/],
  [['--rig', 'a b'], 64, /The name "a b" cannot be a file's/],
])('%j is refused', async (args, wanted, sentence) => {
  const { status, err } = await runProgram(folder, ['rig', 'learn', ...args])
  expect(err).toMatch(sentence)
  expect(status).toBe(wanted)
})
