// The settings of the shop: what a file may hold, and one sentence for what it may not.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readLogo, readShop } from '../../src/commands/read-shop.ts'
import { encodePng } from '../harness/encode-png.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const path = join(folder, 'shop.json')
const write = (json: unknown) => writeFileSync(path, typeof json === 'string' ? json : JSON.stringify(json))
const unstated = {
  name: null,
  address: null,
  place: null,
  logo: null,
  paper: 'a4',
  unit: 'Pa',
  decimal: 'point',
} as const

test('where there is no file nothing is stated, and what is usual holds', async () => {
  expect(await readShop(join(folder, 'none.json'))).toEqual(unstated)
})

test('what is stated is read, a unit in any spelling', async () => {
  write({ name: ' Hollin Lane ', paper: 'letter', unit: 'mm wc', decimal: 'comma' })
  expect(await readShop(path)).toEqual({
    ...unstated,
    ...{ name: 'Hollin Lane', paper: 'letter', unit: 'mmH2O', decimal: 'comma' },
  })
})

test.each([
  [{ paper: 'a5' }, 'paper is "a5"; it must be "a4" or "letter"'],
  [{ unit: 'bar' }, 'second unit (unit) is "bar"; it must be'],
  [{ name: 'x'.repeat(61) }, 'shop (name) has 61 characters; it may have 60'],
  [{ phone: '1' }, '"phone" is not a known field'],
  ['{"name": "a", "name": "b"}', 'the field "name" is there twice'],
])('%j is refused: %s', async (json, told) => {
  write(json)
  const refused = readShop(path)
  await expect(refused).rejects.toThrow(told)
  await expect(refused).rejects.toThrow(path)
})

const logoOf = (logo: string) => readLogo({ ...unstated, logo }, path)

test('a logo is found from the folder of the settings, and printed no larger than it has to be', async () => {
  const png = encodePng(1300, 20, 0, (x) => [x % 256])
  writeFileSync(join(folder, 'logo.png'), png)
  const logo = await logoOf('logo.png')
  expect(logo?.png).toEqual(png)
  expect(logo?.picture.width).toBeLessThanOrEqual(600)
  expect(await readLogo(unstated, path)).toBeNull()
})

test('a logo that is not there, no picture or too large is named with value, limit and next step', async () => {
  writeFileSync(join(folder, 'text.png'), 'hello, this is text')
  writeFileSync(join(folder, 'large.png'), Buffer.alloc(500_001))
  mkdirSync(join(folder, 'folder.png'))
  await expect(logoOf('gone.png')).rejects.toThrow(`The logo ${join(folder, 'gone.png')} is not there.`)
  await expect(logoOf('text.png')).rejects.toThrow('is not a PNG file')
  await expect(logoOf('large.png')).rejects.toThrow('has 500001 bytes; it must have at most 500000.')
  await expect(logoOf('folder.png')).rejects.toThrow('is not a file')
  await expect(logoOf('gone.png')).rejects.toMatchObject({ code: 'settings-invalid', exitCode: 65 })
})
