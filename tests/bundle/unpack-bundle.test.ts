// A .zip from anywhere: its files, or one sentence why it is not unpacked.
import { zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { isEntryName, mostBytes, mostEntries } from '../../src/bundle/entry.ts'
import { packBundle } from '../../src/bundle/pack-bundle.ts'
import { unpackBundle } from '../../src/bundle/unpack-bundle.ts'
import type { Problem } from '../../src/errors.ts'

const bytes = Buffer.from('bytes')
const zipOf = (...names: string[]) => zipSync(Object.fromEntries(names.map((name) => [name, bytes])), { level: 0 })
const refused = (zip: Uint8Array) => {
  try {
    unpackBundle(zip, 'x.zip')
  } catch (error) {
    const { code, message, exitCode } = error as Problem
    return { code, message, exitCode }
  }
  throw new Error('it was unpacked')
}

test('what was packed comes out again, with a list of its digests, and the same files give the same bytes', () => {
  const entries = [
    { name: 'a.run', bytes },
    { name: 'drivers/my-line.mjs', bytes: Buffer.alloc(5000, 7) },
  ]
  const zip = packBundle(entries)
  expect(Buffer.from(packBundle(entries)).equals(zip)).toBe(true)
  const out = unpackBundle(zip, 'x.zip')
  expect(out.map(({ name }) => name).sort()).toEqual(['SHA256SUMS', 'a.run', 'drivers/my-line.mjs'])
  expect(Buffer.from(out.find(({ name }) => name === 'drivers/my-line.mjs')!.bytes).equals(entries[1]!.bytes)).toBe(
    true,
  )
})

test.each([
  '../a.run',
  'drivers/../../a.run',
  '/etc/a.run',
  'C:\\a.run',
  'C:a.run',
  'drivers\\a.mjs',
  './a.run',
  'a.run/',
  'other/a.run',
  'drivers/deep/a.mjs',
  'a\u0000.run',
  'a\u001b[31m.run',
  'a b.run',
  '-rf.run',
  '.a.run',
  '$(x).run',
  'a.exe',
  'a.run.exe',
  '日本.run',
  `${'n'.repeat(300)}.run`,
  '',
])('a file named %j is refused before anything is unpacked', (name) => {
  expect(isEntryName(name)).toBe(false)
  const { code, message, exitCode } = refused(zipOf('a.run', name || ' '))
  expect({ code, exitCode }).toEqual({ code: 'bundle-unsafe', exitCode: 65 })
  expect(message).toMatch(/^x\.zip holds a file ".*", which a bundle cannot hold\.$/)
})

test('two files of one name, but for capitals, are refused', () => {
  expect(refused(zipOf('a.run', 'A.run')).message).toBe('x.zip holds "A.run" twice.')
})

test('a file that states to be larger than a bundle may be is refused, and so are too many', () => {
  const zip = Buffer.from(zipOf('a.run', 'b.run'))
  // The unpacked size in the directory at the end: 24 bytes behind the signature of its entry (APPNOTE 4.3.12).
  for (let at = zip.indexOf('PK\x01\x02', 0, 'latin1'); at >= 0; at = zip.indexOf('PK\x01\x02', at + 1, 'latin1'))
    zip.writeUInt32LE(mostBytes / 2 + 1, at + 24)
  expect(refused(zip)).toMatchObject({ code: 'bundle-too-large' })
  const many = Array.from({ length: mostEntries + 1 }, (_, i) => `n${i}.run`)
  expect(refused(zipOf(...many))).toMatchObject({ code: 'bundle-too-large' })
})

test('a file that unpacks to more than it states is cut, not believed', () => {
  const zip = Buffer.from(zipSync({ 'a.run': Buffer.alloc(1_000_000) }))
  zip.writeUInt32LE(10, zip.indexOf('PK\x01\x02', 0, 'latin1') + 24)
  let most = 0
  try {
    most = Math.max(...unpackBundle(zip, 'x.zip').map(({ bytes }) => bytes.length))
  } catch (error) {
    expect((error as Problem).code).toBe('bundle-invalid')
  }
  expect(most).toBeLessThanOrEqual(10)
})

test('whatever a .zip is cut to or changed to, it is unpacked to plain names or refused in one sentence', () => {
  const zip = packBundle([{ name: 'a.run', bytes: Buffer.from('hello '.repeat(50)) }])
  for (let i = 0; i < zip.length; i++)
    for (const changed of [zip.subarray(0, i), Buffer.from(zip).fill(zip[i]! ^ 0x41, i, i + 1)])
      try {
        for (const { name } of unpackBundle(changed, 'x.zip')) expect(isEntryName(name)).toBe(true)
      } catch (error) {
        expect((error as Problem).code).toMatch(/^bundle-/)
      }
})
