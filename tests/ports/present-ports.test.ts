// The adapters that are plugged in, from the files in which the system tells of them.
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { presentPorts } from '../../src/ports/present-ports.ts'
import { createPlugBoard } from '../harness/plug-board.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

test('adapters come sorted by path, with maker, product, serial number and plug', async () => {
  const board = createPlugBoard(temporaryFolder())
  board.plug('ttyUSB10', '1.2', null)
  board.plug('ttyUSB9', '1.3', 'A5')
  const kind = { vendor: '1a86', product: '7523' }
  expect(await presentPorts(board)).toEqual([
    { path: join(board.devices, 'ttyUSB9'), adapter: { ...kind, serial: 'A5', position: '0000:00:14.0 1.3:1.0' } },
    { path: join(board.devices, 'ttyUSB10'), adapter: { ...kind, serial: null, position: '0000:00:14.0 1.2:1.0' } },
  ])
  board.unplug('ttyUSB9')
  expect(await presentPorts(board)).toHaveLength(1)
})

test('the ports of one interface are told apart, and a board on its interface itself is an adapter too', async () => {
  const folder = temporaryFolder()
  const board = createPlugBoard(folder)
  board.plug('ttyUSB0', '1.2', 'A5')
  board.plug('ttyUSB1', '1.2', 'A5')
  const top = join(folder, 'sys/pci0000:00/0000:00:14.0/usb1/1-1/1-1.2')
  writeFileSync(join(top, '1-1.2:1.0/ttyUSB1/port_number'), '1\n')
  mkdirSync(join(board.classes, 'ttyACM0'))
  symlinkSync(join(top, '1-1.2:1.0'), join(board.classes, 'ttyACM0', 'device'))
  expect((await presentPorts(board)).map(({ adapter }) => adapter?.position)).toEqual([
    '0000:00:14.0 1.2:1.0',
    '0000:00:14.0 1.2:1.0',
    '0000:00:14.0 1.2:1.0 port 1',
  ])
})

test('what is not on USB is left out, and where the system has no such files nothing is listed', async () => {
  const folder = temporaryFolder()
  const board = createPlugBoard(folder)
  mkdirSync(join(folder, 'sys/platform/serial8250'), { recursive: true })
  mkdirSync(join(board.classes, 'ttyS0'))
  symlinkSync(join(folder, 'sys/platform/serial8250'), join(board.classes, 'ttyS0', 'device'))
  mkdirSync(join(board.classes, 'tty1'))
  expect(await presentPorts(board)).toEqual([])
  expect(await presentPorts({ devices: folder, classes: join(folder, 'absent') })).toEqual([])
})
