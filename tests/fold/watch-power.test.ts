// The warning of an instrument that is about to switch itself off, by what an earlier test has shown.
import { expect, test } from 'vitest'
import { powerWarning } from '../../src/fold/watch-power.ts'

const ports = [{ name: 'manometer' as const, onForS: 900 }, { name: 'meter' as const }]

test('it comes at 80 % of the time on, names instrument and minutes, and ends with that time', () => {
  expect(powerWarning(ports, 719)).toBeNull()
  expect(powerWarning(ports, 720)).toBe(
    'In an earlier test the manometer fell silent after 15 min, as one that saves power does: vent, then press a key on it.',
  )
  expect(powerWarning(ports, 899)).not.toBeNull()
  expect(powerWarning(ports, 900)).toBeNull()
})

test('nothing is said of instruments of which nothing is known', () => {
  expect(powerWarning([{ name: 'meter' }], 720)).toBeNull()
})
