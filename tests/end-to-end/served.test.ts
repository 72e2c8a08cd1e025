// The built program on a terminal with instruments on serial ports: served ones led to the verdict without hands, and one that sends junk.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { startProgram } from '../harness/run-program.ts'
import { startAtHome } from '../harness/start-at-home.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { abandonTest } from '../harness/terminal.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()

const start = (...args: string[]) => startAtHome(folder, args)

test('served instruments are tested hands-free, serial after serial: a key for the cautions, one to leave the verdict', {
  // On a machine so busy that the simulated instruments fall behind, a test may end undecided, and rightly so.
  retry: 2,
}, async () => {
  const bench = ['good', '--seed', '4', '--short', '--serve', '--speed', '5', '--out', 'bench']
  const server = startProgram(folder, ['simulate', ...bench])
  onTestFinished(() => void server.child.kill('SIGKILL'))
  await until(() => server.out().includes('Ctrl-C'), 'the bench to be served')
  const [, command = ''] = / (run --part .*)/.exec(server.out()) ?? []

  const begin = async (serial: string) => {
    const terminal = start(...command.split(' '), '--serial', serial)
    await terminal.see('Enter understood')
    terminal.key('\r')
    return terminal
  }
  const first = await begin('A1')
  await first.until(() => first.screen().includes('Enter leave'), 'the verdict', 240_000)
  expect(first.screen()).toContain('Within all limits, with margin')
  first.key('\r')
  await first.until(() => first.exit(), 'the program to end')
  expect(first.exit()?.exitCode).toBe(0)
  // The next part is on the bench, and its hand begins at the beginning.
  const second = await begin('A2')
  await second.see('✓ first')
  await abandonTest(second)
  server.child.kill('SIGINT')
  expect((await server.ended).status).toBe(0)
})

test('what an instrument sends reaches the recording and never the terminal', async () => {
  const [manometer, meter] = ['manometer', 'meter'].map((name) => createVirtualSerial(join(folder, name)))
  const devices = [manometer!, meter!]
  for (const device of devices) device.plug()
  const junk = '\x1b]0;owned\x07\x1b[2J\x1b[31mRED\x9b5n\x1bc 12.3 Pa\r\n'
  const talking = setInterval(() => {
    manometer!.write(junk)
    manometer!.write('-0.1 Pa\r\n')
    meter!.write('\x1b[?1049lOL ohm\r\n')
  }, 100)
  onTestFinished(() => {
    clearInterval(talking)
    for (const device of devices) device.unplug()
  })
  const rig = {
    manometer: {
      driver: 'ascii-line',
      suctionSign: -1,
      digit: { value: 0.1, unit: 'Pa' },
      port: { path: manometer!.path, baudRate: 9600 },
    },
    meter: { driver: 'ascii-line', pair: 'com-no', port: { path: meter!.path, baudRate: 9600 } },
  }
  const part = {
    kind: 'draft-proving',
    model: 'DP\x1b[2J-62',
    rated: { value: 62, unit: 'Pa', on: 'make' },
    limits: { make: { low: 55, high: 70, unit: 'Pa' } },
  }
  writeFileSync(join(folder, 'hostile.json'), JSON.stringify(rig))
  writeFileSync(join(folder, 'part.json'), JSON.stringify(part))

  const terminal = start('run', '--rig', 'hostile.json', '--part', 'part.json', '--data-dir', 'hostile')
  await terminal.see('manometer ● open')
  await terminal.see(' unread')
  await abandonTest(terminal)
  const output = terminal.output()
  for (const part of ['\x1b]0;', '\x9b', '\x1bc', '\x1b[31mRED', 'DP\x1b[2J', '\x1b[?1049lOL'])
    expect(output).not.toContain(part)
  const [recording = ''] = readdirSync(join(folder, 'hostile'))
  expect(readFileSync(join(folder, 'hostile', recording), 'utf8')).toContain(btoa(junk).slice(0, 40))
})
