import { spawn } from 'node:child_process'
import { existsSync, lstatSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { SerialPort } from 'serialport'
import { afterEach, describe, expect, test } from 'vitest'
import { partFileSchema } from '../../src/core/model/part.ts'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { Problem } from '../../src/errors.ts'
import { hardenedBinding } from '../../src/hardened-binding.ts'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import { type Served, serveBench } from '../../src/simulation/serve.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()
const cleanups: (() => void)[] = []
afterEach(() => {
  for (const clean of cleanups.splice(0)) clean()
})

async function serve(name: string, speed: number, start: 'at-once' | 'query'): Promise<Served> {
  const served = await serveBench({
    scenario: shortened(findScenario(name, 1)),
    ...{ seed: 1, speed, folder: join(folder, name), start },
  })
  cleanups.push(served.stop)
  return served
}

function open(path: string) {
  // The library's own binding reads a device that is gone for ever; `binding` is taken, though its type does not say so.
  const options = { path, baudRate: 9600, binding: hardenedBinding }
  const port = new SerialPort(options)
  const seen = { text: '', closed: false }
  port.on('data', (bytes: Buffer) => {
    seen.text += bytes.toString('latin1')
  })
  port.on('close', () => {
    seen.closed = true
  })
  cleanups.push(() => port.isOpen && port.close())
  return { port, seen }
}

describe.skipIf(process.platform === 'win32')('on pseudo-terminals', () => {
  test('The instruments answer on their device paths, and nothing moves before the first query.', async () => {
    const served = await serve('good', 50, 'query')
    const gauge = open(served.paths.manometer!)
    const meter = open(served.paths.meter!)
    await until(() => gauge.port.isOpen && meter.port.isOpen, 'both ports open')
    expect(gauge.seen.text).toBe('')
    meter.port.write('READ?\n')
    await until(() => meter.seen.text.endsWith('\n') && gauge.seen.text.includes('\n'), 'a line from each')
    expect(meter.seen.text).toBe('+9.90000E+37\n')
    await until(() => /-0\.25\d inH2O\r\n/.test(gauge.seen.text), 'the rated point')
  })

  test('The files it leaves are a valid part and a valid rig that names the paths.', async () => {
    const served = await serve('network', 1, 'query')
    const read = (file: string): unknown => JSON.parse(readFileSync(file, 'utf8'))
    expect(partFileSchema.safeParse(read(served.partFile)).success).toBe(true)
    const rig = rigFileSchema.parse(read(served.rigFile))
    expect(rig.manometer?.port?.path).toBe(served.paths.manometer)
    expect(rig.meter?.port?.path).toBe(served.paths.meter)
    expect(rig.meter?.pair).toBe('network')
    expect(lstatSync(served.paths.meter!).isSymbolicLink()).toBe(true)
    served.stop()
    expect(existsSync(served.paths.meter!)).toBe(false)
  })

  test('A cable that comes off takes the device away, and it comes back under the same path.', async () => {
    const served = await serve('cable-lost', 400, 'at-once')
    const gauge = open(served.paths.manometer!)
    await until(() => gauge.seen.closed, 'the device gone')
    await until(() => existsSync(served.paths.manometer!), 'the device back')
    const again = open(served.paths.manometer!)
    await until(() => again.seen.text.includes('inH2O\r\n'), 'lines again')
    await served.finished
  })

  test('What nobody reads is lost: the bench goes on to its end and can be stopped.', async () => {
    const script = fileURLToPath(new URL('unread-bench.ts', import.meta.url))
    const child = spawn(process.execPath, [script, join(folder, 'unread')], { stdio: 'inherit' })
    cleanups.push(() => child.kill('SIGKILL'))
    await until(() => child.exitCode !== null, 'the end of a bench that nobody reads')
    expect(child.exitCode).toBe(0)
    expect(existsSync(join(folder, 'unread', 'manometer'))).toBe(false)
  })

  test('A folder that cannot be used is named.', async () => {
    const blocked = join(folder, 'a-file')
    writeFileSync(blocked, '')
    const scenario = findScenario('good', 1)
    const attempt = serveBench({ scenario, seed: 1, speed: 1, folder: join(blocked, 'inside'), start: 'query' })
    await expect(attempt).rejects.toThrow(Problem)
    await expect(attempt).rejects.toThrow(/cannot use the folder ".*inside"/)
  })
})

test('Windows, where no pseudo-terminal can be opened, is told so', async () => {
  const platform = Object.getOwnPropertyDescriptor(process, 'platform')!
  cleanups.push(() => Object.defineProperty(process, 'platform', platform))
  Object.defineProperty(process, 'platform', { value: 'win32', configurable: true })
  await expect(serve('good', 1, 'at-once')).rejects.toMatchObject({ code: 'pseudo-terminal-missing' })
})
