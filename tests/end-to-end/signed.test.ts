// The built program with a bench whose key has a passphrase: asked for before the test, never shown, and the recording is signed.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, onTestFinished, test } from 'vitest'
import { runProgram } from '../harness/run-program.ts'
import { startAtHome } from '../harness/start-at-home.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { abandonTest, type Terminal } from '../harness/terminal.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()
const passphrase = 'valve copper lantern moss'

const start = (...args: string[]) => startAtHome(folder, args)
const ended = (terminal: Terminal) => terminal.until(() => terminal.exit(), 'the program to end')
const keyText = () => readFileSync(join(folder, 'home/data/makebreak/signing/bench.key'), 'utf8')

beforeAll(() => {
  const device = (name: string, more: object) => ({
    ...{ driver: 'ascii-line', port: { path: join(folder, name), baudRate: 9600 } },
    ...more,
  })
  const manometer = device('manometer', { suctionSign: -1, digit: { value: 0.1, unit: 'Pa' } })
  writeFileSync(join(folder, 'rig.json'), JSON.stringify({ manometer, meter: device('meter', { pair: 'com-no' }) }))
  const limits = { make: { low: 55, high: 70, unit: 'Pa' } }
  const part = { kind: 'draft-proving', model: 'DP-62', rated: { value: 62, unit: 'Pa', on: 'make' }, limits }
  writeFileSync(join(folder, 'part.json'), JSON.stringify(part))
})

const testing = ['run', '--rig', 'rig.json', '--part', 'part.json', '--data-dir', 'made'] as const

test('a passphrase is set, asked for before a test, and what is typed is never shown', async () => {
  const key = start('key', '--passphrase')
  await key.see('New passphrase')
  key.key(`${passphrase}x\x7f\r`)
  await key.see('Once more')
  key.key(`${passphrase}\r`)
  await ended(key)
  expect(key.exit()?.exitCode).toBe(0)
  expect(key.output()).toContain('has a new passphrase now')
  expect(key.output()).not.toContain('lantern')
  expect(keyText()).toContain('BEGIN ENCRYPTED PRIVATE KEY')

  const devices = ['manometer', 'meter'].map((name) => createVirtualSerial(join(folder, name)))
  for (const device of devices) device.plug()
  const talking = setInterval(() => {
    devices[0]!.write('-0.1 Pa\r\n')
    devices[1]!.write('OL ohm\r\n')
  }, 100)
  onTestFinished(() => {
    clearInterval(talking)
    for (const device of devices) device.unplug()
  })
  const terminal = start(...testing)
  await terminal.see('Passphrase of the key of this bench')
  terminal.key('wrong\r')
  await terminal.see('That is not it')
  terminal.key(`${passphrase}\r`)
  await terminal.see('manometer ● open')
  await abandonTest(terminal)
  expect(terminal.output()).not.toContain('lantern')
  expect(terminal.output()).not.toContain('wrong')
  expect(terminal.output()).toMatch(/Signature: signed by the key of this bench, [0-9a-f]{4}/)

  const [recording = ''] = readdirSync(join(folder, 'made'))
  const { status, out } = await runProgram(folder, ['check', join('made', recording)])
  expect(status).toBe(0)
  expect(out).toMatch(/: whole, sealed; signed by the key of this bench, [0-9a-f ]{19}$/m)
})

test('without a terminal to type it on the test is refused, and records nothing', async () => {
  const before = readdirSync(join(folder, 'made'))
  const { status, err } = await runProgram(folder, [...testing, '--plain'])
  expect(status).toBe(65)
  expect(err).toContain('needs its passphrase to sign.')
  expect(readdirSync(join(folder, 'made'))).toEqual(before)
})

test('the key that is shown is the one that openssl and others get, and nothing of the private one', async () => {
  const { out } = await runProgram(folder, ['key', '--public'])
  expect(keyText().startsWith(out)).toBe(true)
  writeFileSync(join(folder, 'bench.pem'), out)
  const shown = await runProgram(folder, ['key'])
  expect(shown.out).toContain('with a passphrase')
  expect(shown.out).not.toContain('PRIVATE')
  const files = readdirSync(join(folder, 'made')).map((name) => join('made', name))
  expect((await runProgram(folder, ['check', ...files, '--key', 'bench.pem'])).status).toBe(0)
  expect((await runProgram(folder, ['key', '--replace'])).out).toContain('without a passphrase')
  const { out: told } = await runProgram(folder, ['check', ...files])
  expect(told).toContain('signed by the key of this bench')
})
