// The events of a rig that is looked at, beside a user's own driver: what it reads comes back, and what it does wrong is one sentence.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openEars } from '../../src/commands/start/open-ears.ts'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { readEvent } from '../harness/fold-events.ts'
import { doing, ownDriver, waiting } from '../harness/own-driver.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const rigOf = (driver: string) =>
  rigFileSchema.parse({
    name: 'looked at',
    manometer: { driver, suctionSign: 1, digit: { value: 1, unit: 'Pa' }, port: { path: '/dev/a' } },
    meter: { driver: 'continuity-text', pair: 'com-no', port: { path: '/dev/b' } },
  })

const begin = (driver: string) => [
  readEvent({
    ...{ type: 'start', format: 1, id: '019aa000-0000-7000-8000-000000000000', at: '2027-03-14T09:00:00Z' },
    ...{ purpose: 'free', simulated: true, software: 'test', rig: rigOf(driver) },
    part: { kind: 'draft-proving', rated: { value: 62, unit: 'Pa', on: 'make' } },
  }),
  readEvent({ type: 'link', t: 0, port: 'manometer', state: 'open' }),
]
const rx = (t: number, text: string) => readEvent({ type: 'rx', t, port: 'manometer', text })

function folderOf(id: string, parts: Parameters<typeof ownDriver>[1]): string {
  const folder = temporaryFolder()
  mkdirSync(join(folder, 'drivers'))
  writeFileSync(join(folder, 'drivers', `${id}.mjs`), ownDriver(id, parts))
  return join(folder, 'drivers')
}

test.each([
  ['of the project', 'ascii-line'],
  ['of the user’s own', 'my-line'],
])('pieces come back beside what a driver %s reads in them, with unit and last digit', async (_, id) => {
  const ears = await openEars(rigOf(id), folderOf('my-line', {}))
  expect(ears.drivers.get(id)?.id).toBe(id)
  await ears.hear(begin(id))
  await ears.hear([rx(1e6, '\n12 Pa\n'), rx(2e6, '-3 Pa\n')])
  const { ports, unit, digit } = await ears.view()
  ears.stop()
  const [manometer, meter] = ports
  expect(manometer).toMatchObject({ name: 'manometer', link: 'open', quietS: 0 })
  expect(manometer?.heard.at(-1)).toEqual({ raw: '-3 Pa\n', read: '-3 Pa', bad: false })
  expect(meter).toMatchObject({ name: 'meter', link: 'waiting', heard: [] })
  expect([unit, digit]).toEqual(['Pa', { value: 1, unit: 'Pa' }])
})

test('what was proved is proved again from the moment that is asked for', async () => {
  const ears = await openEars(rigOf('ascii-line'), folderOf('my-line', {}))
  await ears.hear(begin('ascii-line'))
  await ears.hear(Array.from({ length: 100 }, (_, i) => rx(i * 1e5, `${i === 0 ? '\n' : ''}${i < 50 ? 0 : -60} Pa\n`)))
  expect((await ears.view()).check.sign).toMatchObject({ value: -1 })
  await ears.again()
  expect((await ears.view()).check.sign).toBeNull()
  ears.stop()
})

test.each([
  ['ends', 'process.exit(0)', 'The driver "ends" ended the program with process.exit.'],
  ['hangs', waiting, 'The driver "hangs" gave no answer for 5 s and was ended.'],
])('a driver that %s while it is looked at is one sentence', async (id, what, why) => {
  const ears = await openEars(rigOf(id), folderOf(id, { decode: doing(what) }))
  await ears.hear(begin(id))
  await expect(ears.hear([rx(1e6, '12 Pa\n')])).rejects.toThrow(why)
  await expect(ears.view()).rejects.toThrow(why)
  ears.stop()
})
