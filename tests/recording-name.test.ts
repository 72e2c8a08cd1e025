// A recording's name must never lead out of its folder, whatever serial number was typed.
import { basename, join, win32 } from 'node:path'
import { expect, test } from 'vitest'
import { recordingName } from '../src/recording-name.ts'

const at = new Date('2027-03-14T09:15:00.250Z')
const id = '01959c1e-7a10-7cc3-98c4-dc0c0c3f9c1a'

test('it holds time, serial number and the end of the id', () => {
  expect(recordingName(at, 'A1047', id)).toBe('20270314-091500Z-A1047-3f9c1a.run')
})

test('without a serial number the place is left out', () => {
  expect(recordingName(at, null, id)).toBe('20270314-091500Z-3f9c1a.run')
  expect(recordingName(at, '../..', id)).toBe('20270314-091500Z-3f9c1a.run')
})

test.each(['../../x', '/etc/passwd', 'C:\\x', '..\\..\\x', 'a\0b', 'a\nb', '.', '~', 'x'.repeat(5000), 'n°5/β', 'a:b'])(
  'the serial number %j never leaves the folder',
  (serial) => {
    const name = recordingName(at, serial, id)
    expect(name).toMatch(/^20270314-091500Z(-[A-Za-z0-9_-]{1,41})?-3f9c1a\.run$/)
    expect(basename(join('/data', name))).toBe(name)
    expect(win32.basename(win32.join('C:\\data', name))).toBe(name)
  },
)

test.each(['CON', 'nul', 'com1', 'LPT9'])('the reserved name %s is not used bare', (serial) => {
  expect(recordingName(at, serial, id)).toBe(`20270314-091500Z-_${serial}-3f9c1a.run`)
})

test('an id from a foreign program is made plain too', () => {
  expect(recordingName(at, 'A', '../../../x')).toBe('20270314-091500Z-A-x.run')
})
