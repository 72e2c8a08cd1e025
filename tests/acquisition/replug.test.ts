// Two adapters in mid-recording: both are pulled, and come back under each other's names.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test, vi } from 'vitest'
import type { PortPlan } from '../../src/acquisition/messages.ts'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createReader } from '../../src/recording/read.ts'
import { createPlugBoard } from '../harness/plug-board.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'
import { planOf, portPlan } from './bench.ts'

const folder = temporaryFolder()
const board = createPlugBoard(folder)

// The system's own files are not ours to change: the recording process is told of this board in their place.
vi.mock('../../src/ports/present-ports.ts', async (load) => {
  const real = await load<typeof import('../../src/ports/present-ports.ts')>()
  return { ...real, presentPorts: () => real.presentPorts(board) }
})
const { createAcquisition } = await import('../../src/acquisition/acquisition.ts')

/** A pseudo-terminal under `name` with an adapter at `plug`. */
function plugIn(name: string, plug: string) {
  const device = createVirtualSerial(join(folder, name))
  device.plug()
  board.plug(name, plug, null)
  return {
    ...device,
    pull() {
      board.unplug(name)
      device.unplug()
    },
  }
}

test('each instrument goes on under the new name of its adapter, and the recording says which', async () => {
  const adapter = (plug: string) => ({
    ...{ vendor: '1a86', product: '7523', serial: null, position: `0000:00:14.0 ${plug}:1.0` },
  })
  const plan = (name: PortPlan['name'], path: string, plug: string): PortPlan => ({
    ...portPlan(name, join(folder, path)),
    adapter: adapter(plug),
  })
  const before = [plugIn('ttyUSB0', '1'), plugIn('ttyUSB1', '2')]
  const file = join(folder, 'replug.run')
  const ports = [plan('manometer', 'ttyUSB0', '1'), plan('meter', 'ttyUSB1', '2')]
  const acquisition = createAcquisition(
    planOf(file, ports),
    null,
    () => {},
    (problem) => expect.unreachable(problem.message),
  )
  onTestFinished(() => acquisition.conclude())
  const links = () =>
    events(file).flatMap((event) =>
      event.type === 'link' ? [`${event.port} ${event.state}${event.state === 'back' ? `: ${event.why}` : ''}`] : [],
    )
  await until(() => links().length === 2, 'both ports to be open')

  for (const device of before) device.pull()
  await until(() => links().length === 4, 'both ports to be lost')
  const after = [plugIn('ttyUSB0', '2'), plugIn('ttyUSB1', '1')]
  onTestFinished(() => {
    for (const device of after) device.pull()
  })
  await until(() => links().length === 6, 'both ports to be back')
  expect(links().toSorted()).toEqual([
    `manometer back: at ${join(folder, 'ttyUSB1')} now`,
    'manometer lost',
    'manometer open',
    `meter back: at ${join(folder, 'ttyUSB0')} now`,
    'meter lost',
    'meter open',
  ])
  after[1]!.write('-12.5 Pa\r\n')
  const heard = (event: RecordedEvent) =>
    event.type === 'rx' && event.port === 'manometer' && event.text === '-12.5 Pa\r\n'
  await until(() => events(file).some(heard), 'a line of the manometer')
})

function events(file: string): RecordedEvent[] {
  const reader = createReader()
  return [...reader.push(readFileSync(file)), ...reader.finish()]
}
