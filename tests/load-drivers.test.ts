// The drivers of the project and of a user's own folder, and what is said of a file that is none.
import { createHash } from 'node:crypto'
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { Problem } from '../src/errors.ts'
import { digestOf, loadDrivers } from '../src/load-drivers.ts'

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drivers-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const source = (id: string) => `export const driver = {
  id: '${id}', title: 'A line of my own',
  serial: { baudRate: 1200, dataBits: 7, parity: 'even', stopBits: 1 },
  options: {}, channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
  wire: () => ({ framing: { kind: 'bytes' }, start: null, poll: [], maxFrameBytes: 16 }),
  decode: (memory, chunk) => ({ readings: [], faults: [], memory: (memory ?? 0) + chunk.length }),
}
`

async function problemWith(name: string, text: string): Promise<Problem> {
  writeFileSync(join(folder, name), text)
  const error = await loadDrivers(folder).then(
    () => null,
    (thrown) => thrown,
  )
  expect(error).toBeInstanceOf(Problem)
  expect(error.code).toBe('driver-invalid')
  expect(error.message).toContain(join(folder, name))
  expect(error.message).toMatch(/^[ -~]+$/)
  return error
}

test('every file of drivers/ is loaded under its id, beside the one for what is typed', async () => {
  const names = readdirSync(new URL('../drivers', import.meta.url)).filter((name) => name.endsWith('.ts'))
  const files = names.map((name) => name.replace(/\.ts$/, ''))
  expect([...(await loadDrivers()).keys()]).toEqual([...files.sort(), 'typed'])
})

test('a folder that is absent or empty adds nothing', async () => {
  const own = [...(await loadDrivers()).keys()]
  expect([...(await loadDrivers(folder)).keys()]).toEqual(own)
  expect([...(await loadDrivers(join(folder, 'absent'))).keys()]).toEqual(own)
})

test("a user's own file is added; other files of the folder are left alone", async () => {
  writeFileSync(join(folder, 'my-line.mjs'), source('my-line'))
  writeFileSync(join(folder, 'notes.txt'), 'not a driver')
  const drivers = await loadDrivers(folder)
  expect(drivers.get('my-line')?.serial.baudRate).toBe(1200)
  expect(drivers.has('notes')).toBe(false)
})

test("the digest of a user's own file is that of the code loaded, also after a change; the project's have none", async () => {
  const digest = (text: string) => createHash('sha256').update(text).digest('hex')
  const texts = [source('my-line'), source('my-line').replace('1200', '2400')]
  for (const [index, text] of texts.entries()) {
    writeFileSync(join(folder, 'my-line.mjs'), text)
    const driver = (await loadDrivers(folder)).get('my-line')!
    expect(driver.serial.baudRate).toBe([1200, 2400][index])
    expect(digestOf(driver)).toBe(digest(text))
  }
  expect(digestOf((await loadDrivers()).get('ascii-line')!)).toBeNull()
})

test('an id that the project has already is refused', async () => {
  expect((await problemWith('ascii-line.mjs', source('ascii-line'))).message).toContain('"ascii-line" is already taken')
})

test('an id other than the file name is refused', async () => {
  expect((await problemWith('other.mjs', source('my-line'))).message).toContain('the id "my-line", not "other"')
})

test('a file that is broken, throws, or exports no driver is one clear problem', async () => {
  expect((await problemWith('a.mjs', 'export const driver = {')).message).toContain('does not load')
  rmSync(join(folder, 'a.mjs'))
  expect((await problemWith('b.mjs', "throw new Error('line one\\nline \\x1b two')")).message).toContain(
    'does not load: line one.line . two',
  )
  rmSync(join(folder, 'b.mjs'))
  expect((await problemWith('c.mjs', 'export const other = 1')).message).toContain('exports no "driver"')
  rmSync(join(folder, 'c.mjs'))
  expect((await problemWith('d.mjs', source('d').replace('baudRate: 1200', 'baudRate: 7'))).message).toContain(
    'serial.baudRate',
  )
})
