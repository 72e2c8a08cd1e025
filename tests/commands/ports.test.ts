// What `ports` finds, also where the system's lister fails, and what it makes of the bytes it hears.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { describeReading } from '../../src/commands/describe-reading.ts'
import { findPorts } from '../../src/commands/find-ports.ts'
import { listenPort } from '../../src/commands/listen-port.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { bytesOf } from '../harness/bytes-of.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { createVirtualSerial, type VirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()

function plugIn(name: string): VirtualSerial {
  const device = createVirtualSerial(join(folder, name))
  device.plug()
  return device
}

const drivers = [...(await loadDrivers()).values()]

test('ports come sorted by number, with what the adapter states', async () => {
  const { ports, lister } = await findPorts(folder, async () => [
    { path: '/nowhere/ttyUSB10', manufacturer: 'Example works', serialNumber: 'E5' },
    { path: '/nowhere/ttyUSB9' },
  ])
  expect(lister).toBeNull()
  expect(ports).toEqual([
    { path: '/nowhere/ttyUSB9', description: '', hint: null },
    { path: '/nowhere/ttyUSB10', description: 'Example works, serial E5', hint: null },
  ])
})

test('a port shows what its adapter is known by: product, serial number and plug', async () => {
  const listed = [{ path: '/nowhere/ttyUSB0', manufacturer: 'Example works', serialNumber: 'E5' }]
  const adapter = { vendor: '0403', product: '6001', serial: 'E5', position: '1.2:1.0' }
  const { ports } = await findPorts(
    folder,
    async () => listed,
    async () => [{ path: '/nowhere/ttyUSB0', adapter }],
  )
  expect(ports[0]?.description).toBe('Example works, 0403:6001, serial E5 at plug 1.2:1.0')
})

test('where the lister fails, the device folder is searched and the reason is kept', async () => {
  mkdirSync(join(folder, 'dev'))
  for (const name of ['ttyUSB1', 'ttyACM0', 'tty1', 'null', 'cu.usbserial-1', 'cu.Bluetooth-Incoming-Port', 'ttyS0'])
    writeFileSync(join(folder, 'dev', name), '')
  const { ports, lister } = await findPorts(join(folder, 'dev'), () =>
    Promise.reject(new Error('spawn udevadm ENOENT')),
  )
  expect(lister).toBe('spawn udevadm ENOENT')
  expect(ports.map((port) => port.path)).toEqual(
    ['cu.usbserial-1', 'ttyACM0', 'ttyUSB1'].map((name) => join(folder, 'dev', name)),
  )
  expect(await findPorts(join(folder, 'absent'), () => Promise.reject(new Error('x')))).toEqual({
    ports: [],
    lister: 'x',
  })
})

test('a port that talks by itself is heard', async () => {
  const port = plugIn('talker')
  const talking = setInterval(() => port.write('-0.251 inH2O\r\n'), 20)
  const heard = await listenPort(port.path, 9600, 0.5, drivers)
  clearInterval(talking)
  port.unplug()
  expect(heard.text).toContain('-0.251 inH2O\r\n')
  expect(heard.asked).toBeNull()
})

test('a silent port is asked, and the driver whose question was answered is named', async () => {
  const port = plugIn('answerer')
  port.onReceived = (bytes) => {
    if (bytes.includes('?')) port.write('+3.10000000E-01\r\n')
  }
  const heard = await listenPort(
    port.path,
    9600,
    1,
    drivers.filter((driver) => driver.id === 'scpi-query'),
  )
  port.unplug()
  expect(heard).toEqual({ text: '+3.10000000E-01\r\n', asked: { id: 'scpi-query', sent: 'READ?\n' } })
})

test('an absent port is a Problem with the path', async () => {
  await expect(listenPort('/dev/nonesuch-port', 9600, 0.1, [])).rejects.toMatchObject({
    code: 'port-absent',
    message: 'Port /dev/nonesuch-port not found.',
  })
})

test('a port in use is a Problem with the path', async () => {
  const port = plugIn('busy')
  const first = listenPort(port.path, 9600, 1, [])
  await new Promise((done) => setTimeout(done, 200))
  await expect(listenPort(port.path, 9600, 0.1, [])).rejects.toMatchObject({ code: 'port-busy' })
  await first
  port.unplug()
})

test('each driver says what it can make of the bytes, and noise is nothing', () => {
  const reports = (text: string) =>
    drivers.map((driver) => describeReading(driver, text, null)).filter((line) => line !== null)
  expect(reports('51 inH2O\r\n-0.251 inH2O\r\n-0.252 inH2O\r\n')).toContain(
    'ascii-line reads 2 of 2 frames as pressure',
  )
  expect(reports('\n+3.1E-01\r\n')).toEqual([
    'ascii-line reads 1 of 1 frames as resistance',
    'csv-line reads 1 of 1 frames as resistance',
    'scpi-query reads 1 of 1 frames as pressure, 1 of 1 frames as resistance',
  ])
  // The default question of the driver, and -625 in answer.
  const asked = { id: 'modbus-rtu', sent: bytesOf('01 03 00 00 00 01 84 0A') }
  const answered = drivers.map((driver) => describeReading(driver, bytesOf('01 03 02 FD 8F B9 70'), asked))
  expect(answered.filter((line) => line !== null)).toEqual([
    'modbus-rtu reads 1 of 1 frames as pressure, 1 of 1 frames as resistance',
  ])
  expect(reports('\u00ff\u0001\u00fe\r\nqqq\r\n')).toEqual([])
})
