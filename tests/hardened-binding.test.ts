import { join } from 'node:path'
import { SerialPort } from 'serialport'
import { expect, test } from 'vitest'
import { hardenedBinding } from '../src/hardened-binding.ts'
import { temporaryFolder } from './harness/temporary-folder.ts'
import { createVirtualSerial } from './harness/virtual-serial.ts'

const device = createVirtualSerial(join(temporaryFolder(), 'tty'))
const open = () => hardenedBinding.open({ path: device.path, baudRate: 9600 })

test('a read of a device that has vanished fails at once instead of reading nothing for ever', async () => {
  device.plug()
  const port = await open()
  device.unplug()
  await expect(port.read(Buffer.alloc(16), 0, 16)).rejects.toThrow()
  await port.close()
})

test('a read under way ends when the device vanishes', async () => {
  device.plug()
  const port = await open()
  const reading = port.read(Buffer.alloc(16), 0, 16)
  device.unplug()
  await expect(reading).rejects.toThrow()
  await port.close()
})

test('a read under way is cancelled when the port is closed', async () => {
  device.plug()
  const port = await open()
  const reading = port.read(Buffer.alloc(16), 0, 16)
  const cancelled = expect(reading).rejects.toMatchObject({ canceled: true })
  await port.close()
  await cancelled
  device.unplug()
})

test('the library accepts it as its binding', async () => {
  device.plug()
  const port = new SerialPort({ path: device.path, baudRate: 9600, autoOpen: false, ...{ binding: hardenedBinding } })
  const heard = new Promise<Buffer>((resolve) => port.once('data', resolve))
  await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())))
  device.write('-12.4 Pa\n')
  expect((await heard).toString()).toBe('-12.4 Pa\n')
  await new Promise((resolve) => port.close(resolve))
  device.unplug()
})
