// A rig's ports found by what was kept of their adapters, kept once a test has shown them right, and forgotten once it has not.
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { findRigPorts, keepSavedPorts, learnedOnForS, portsNameOf } from '../../src/commands/find-rig-ports.ts'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { presentPorts } from '../../src/ports/present-ports.ts'
import { createPlugBoard } from '../harness/plug-board.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

/** Two adapters on a board of their own, the manometer's first, and the file that keeps them. */
function bench(serials: [string | null, string | null] = ['A', 'B']) {
  const folder = temporaryFolder()
  const board = createPlugBoard(folder)
  board.plug('ttyUSB0', '1', serials[0])
  board.plug('ttyUSB1', '2', serials[1])
  for (const name of ['ttyUSB0', 'ttyUSB1', 'ttyUSB2']) writeFileSync(join(folder, name), '')
  const at = (name: string) => ({ path: join(folder, name) })
  const gauge = { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' } }
  const rig = rigFileSchema.parse({
    name: 'north bench',
    manometer: { ...gauge, port: { ...at('ttyUSB0'), baudRate: 9600 } },
    meter: { driver: 'scpi-query', pair: 'com-no', port: at('ttyUSB1') },
  })
  const file = join(folder, 'own', 'ports.json')
  const list = () => presentPorts(board)
  return {
    board,
    rig,
    file,
    list,
    path: (name: string) => at(name).path,
    find: () => findRigPorts('north', rig, file, list),
  }
}

test('what a test has shown to be right is found again under other names, and the rest of the rig is as stated', async () => {
  const { board, rig, file, find, path } = bench()
  await (await find()).remember(true)
  expect(Object.keys(JSON.parse(readFileSync(file, 'utf8')).rigs)).toEqual(['north'])
  board.unplug('ttyUSB0')
  board.unplug('ttyUSB1')
  board.plug('ttyUSB1', '1', 'A')
  board.plug('ttyUSB0', '2', 'B')
  const found = await find()
  expect(found.rig).toEqual({
    ...rig,
    manometer: { ...rig.manometer, port: { ...rig.manometer?.port, path: path('ttyUSB1') } },
    meter: { ...rig.meter, port: { ...rig.meter?.port, path: path('ttyUSB0') } },
  })
  expect(found.said).toHaveLength(2)
  expect(found.adapters['manometer']).toMatchObject({ serial: 'A' })
})

test('two same adapters without serial number are told apart by their plugs, and that is said', async () => {
  const { board, find, path } = bench([null, null])
  await (await find()).remember(true)
  board.unplug('ttyUSB0')
  board.unplug('ttyUSB1')
  board.plug('ttyUSB1', '1', null)
  board.plug('ttyUSB0', '2', null)
  const { rig, said } = await find()
  expect(rig.manometer?.port?.path).toBe(path('ttyUSB1'))
  expect(said[0]).toMatch(/known by its plug alone/)
})

test('a rig whose instruments were exchanged is forgotten, so that exchanging the plugs helps', async () => {
  const { file, find, rig } = bench()
  await (await find()).remember(true)
  await (await find()).remember(false)
  expect(JSON.parse(readFileSync(file, 'utf8')).rigs).toEqual({})
  const found = await find()
  expect(found.rig).toEqual(rig)
  expect(found.said).toEqual([])
})

test('an adapter that is not plugged in is a Problem that names it and the next step', async () => {
  const { board, rig, file, list } = bench()
  await (await findRigPorts('north', rig, file, list)).remember(true)
  board.unplug('ttyUSB0')
  board.unplug('ttyUSB1')
  board.plug('ttyUSB0', '2', 'B')
  await expect(findRigPorts('north', rig, file, list)).rejects.toMatchObject({
    code: 'port-absent',
    message: expect.stringContaining('serial A) is not plugged in'),
    next: expect.stringContaining('makebreak ports'),
  })
})

test('whoever names another path in the rig has decided: what was kept of the old one does not count', async () => {
  const { rig, file, list, path } = bench()
  await (await findRigPorts('north', rig, file, list)).remember(true)
  const exchanged = { ...rig, manometer: rig.meter && { ...rig.manometer!, port: rig.meter.port } }
  const changed = { ...exchanged, meter: { ...rig.meter!, port: rig.manometer!.port } }
  const found = await findRigPorts('north', changed, file, list)
  expect(found.rig.manometer?.port?.path).toBe(path('ttyUSB1'))
  expect(found.said).toEqual([])
})

test('a rig that is saved keeps what is at its ports now; a path that is named as before keeps what was known', async () => {
  const { board, rig, file, list, find, path } = bench()
  await keepSavedPorts('north', { ...rig, name: undefined }, file, list)
  board.unplug('ttyUSB0')
  board.plug('ttyUSB2', '1', 'A')
  await keepSavedPorts('north', { ...rig, name: undefined }, file, list)
  expect((await find()).rig.manometer?.port?.path).toBe(path('ttyUSB2'))
})

test('a file that holds something else is as good as none, and nothing is kept of ports that nothing tells apart', async () => {
  const { board, rig, file, list, find } = bench()
  await (await find()).remember(true)
  writeFileSync(file, '{"rigs": 5}')
  expect((await find()).said).toEqual([])
  board.unplug('ttyUSB0')
  board.unplug('ttyUSB1')
  await (await findRigPorts('plain', rig, file, list)).remember(true)
  expect(readFileSync(file, 'utf8')).toBe('{"rigs": 5}')
})

test('a rig is kept by its own name, else by that of its file', () => {
  const { rig } = bench()
  expect(portsNameOf(rig, 'rigs/other.json')).toBe('north bench')
  expect(portsNameOf({ ...rig, name: null }, 'rigs/other.json')).toBe('other')
})

test('how long an instrument stays on is kept beside the ports, and a change of those leaves it', async () => {
  const { find } = bench()
  await (await find()).rememberPower([{ name: 'manometer', afterS: 900 }], 950)
  await (await find()).remember(true)
  await (await find()).remember(false)
  expect((await find()).onForS).toEqual({ manometer: 900 })
})

test('the newest silence counts, and one that stays on for a quarter longer has learned not to switch off', () => {
  const before = { manometer: 900, meter: 600 }
  expect(learnedOnForS(before, [{ name: 'manometer', afterS: 840 }], 740)).toEqual({ manometer: 840, meter: 600 })
  expect(learnedOnForS(before, [], 750)).toEqual({ manometer: 900 })
  expect(learnedOnForS(before, [], 1125)).toEqual({})
})
