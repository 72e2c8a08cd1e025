// The driver against a slave of another make: through a pseudo-terminal, the acquisition process and a recording.
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { driver } from '../../drivers/modbus-rtu.ts'
import { eventBytes } from '../../src/core/model/event.ts'
import type { Fault } from '../../src/core/model/reading.ts'
import { bindDecode, type Driver, type Options, type Role, resolveOptions, wireOf } from '../../src/driver.ts'
import { portPlan, startRun } from '../acquisition/bench.ts'
import { startModbusSlave } from '../harness/emulators/modbus-slave.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()
const endings: (() => unknown)[] = []
afterEach(async () => {
  for (const end of endings.splice(0)) await end()
})

const float = new DataView(new ArrayBuffer(4))
float.setFloat32(0, -62.35)
const held: Record<number, number> = { 2: 1, 3: 0, 4: 65_536 - 625, 5: 0, 6: 31 }
const input: Record<number, number> = { 300: float.getUint16(2), 301: float.getUint16(0) }

/** The path of a line to a slave; `echo`: its lead hands back what is sent. */
async function slaveLine({ echo = false } = {}): Promise<string> {
  const line = createVirtualSerial(join(folder, `line-${endings.length}`))
  line.plug()
  endings.push(line.unplug)
  endings.unshift(
    await startModbusSlave(line, { holding: (address) => held[address], input: (address) => input[address], echo }),
  )
  return line.path
}

/** What the driver makes of a recording of that line, as far as `count` readings and faults. */
async function recorded(path: string, role: Role, given: Options, count: number): Promise<(number | Fault['code'])[]> {
  const options = resolveOptions(driver, { slave: 7, intervalMs: 40, gapMs: 5, ...given })
  const decode = bindDecode(driver as Driver, options, role)
  const run = startRun(folder, [portPlan(role, path, wireOf(driver as Driver, options))])
  await until(() => run.events.filter(({ type }) => type === 'tx').length > count, 'queries')
  await run.close()
  let memory: unknown = null
  const found = run.events.flatMap((event) => {
    if (event.type !== 'rx' && event.type !== 'tx') return []
    const decoded = decode(memory, eventBytes(event), event.type === 'tx' ? 'sent' : 'received')
    memory = decoded.memory
    return [...decoded.readings.map(({ value }) => value), ...decoded.faults.map(({ code }) => code)]
  })
  return found.slice(0, count)
}

test('whole numbers with their decimals, behind a lead that hands back what is sent', async () => {
  const options = { register: 4, resistanceRegister: 6, decimalsRegister: 2 }
  const path = await slaveLine({ echo: true })
  expect(await recorded(path, 'bridge', options, 4)).toEqual([-62.5, 3.1, -62.5, 3.1])
})

test('a floating number in input registers, its low word first', async () => {
  const options = { function: '04', register: 300, type: 'float32', order: 'cdab' }
  expect(await recorded(await slaveLine(), 'manometer', options, 3)).toEqual(Array(3).fill(Math.fround(-62.35)))
})

test('a register that the slave does not have', async () => {
  expect(await recorded(await slaveLine(), 'meter', { register: 50 }, 2)).toEqual(['device-error', 'device-error'])
})
