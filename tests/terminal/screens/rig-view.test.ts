// What is seen while the instruments of a rig are watched, and what of it is taken over.
import { describe, expect, test } from 'vitest'
import { createRigView, type RigViewState } from '../../../src/terminal/screens/rig-view.ts'
import { pressAll, rowsOf } from './press.ts'

const seen: RigViewState = {
  ports: [
    {
      ...{ name: 'manometer', where: '/dev/ttyUSB0 9600 baud', link: 'open', readingsPerS: 10, faults: 1 },
      ...{ quietS: 0.1, asked: false },
      heard: [
        { raw: '-0.012 inH2O\r\n', read: '-0.012 inH2O', bad: false },
        { raw: '\x1b[2J?!', read: 'no number in the line', bad: true },
      ],
    },
  ],
  check: {
    rest: { meanPa: 0.2, noisePa: 0.1 },
    movesPa: null,
    sign: { value: -1, movedPa: -3 },
    step: { fromPa: -40, tauS: 0.25, intervalS: 0.1 },
    next: 'All is measured.',
  },
  unit: 'inH2O',
  digitPa: 0.249089,
}

describe('a rig that is watched', () => {
  const view = createRigView('Rig')
  test('shows each piece beside what was read from it, and what was proved, safely', () => {
    const text = rowsOf(view, seen).join('\n')
    expect(text).toMatch(/-0\.012 inH2O +→ -0\.012 inH2O/)
    expect(text).toContain('no number in the line')
    expect(text).not.toContain('\x1b')
    expect(text).toContain('last digit 0.001 inH2O (0.249 Pa)')
    expect(text).toContain('-1: the pull was shown as -0.012 inH2O (-3.0 Pa)')
    expect(text).toContain('time constant about 0.25 s, to within a reading (0.10 s)')
  })
  test('says that a display is quicker than its readings where it is', () => {
    const quick = { ...seen, check: { ...seen.check, step: { fromPa: -40, tauS: 0.02, intervalS: 0.1 } } }
    expect(rowsOf(view, quick).join('\n')).toContain('quicker than its readings, which come every 0.10 s')
  })
  test('is taken over only once the sign is proved', () => {
    expect(pressAll(view, seen, 'enter').asked).toEqual(['take'])
    const unproved = { ...seen, check: { ...seen.check, sign: null } }
    expect(pressAll(view, unproved, 'enter')).toMatchObject({
      asked: [],
      said: 'Enter take sign, digit: not now, the sign is not proved yet.',
    })
  })
  test('shows the rate of both whole, whatever their paths are, and all that is measured, also at 50 × 14', () => {
    const long = { ...seen.ports[0]!, where: '/dev/serial/by-id/usb-an-adapter-with-a-long-name 9600 baud' }
    const both = { ...seen, ports: [long, { ...long, name: 'meter', readingsPerS: 4.96, faults: 0 }] }
    for (const [columns, height] of [
      [80, 24],
      [50, 14],
    ] as const) {
      const text = rowsOf(view, both, columns, height).join('\n')
      for (const part of ['10.0 readings/s', '5.0 readings/s', 'digit', 'noise', 'sign', 'damping'])
        expect(text).toContain(part)
    }
    expect(rowsOf(view, both, 50, 14).join('\n')).toContain('0.25 ± 0.10 s')
    expect(rowsOf(view, both).join('\n')).toContain('Rate, noise and damping are shown only')
  })
  test('says that it moves where no rest is found because of that', () => {
    const check = { ...seen.check, rest: null, movesPa: 12.45, sign: null, step: null }
    expect(rowsOf(view, { ...seen, check }).join('\n')).toContain('it moves: 0.050 inH2O (12.4 Pa) in the last 4 s')
  })
  test('says what to look at where an instrument is silent, or sends what cannot be read', () => {
    const port = (change: object) => rowsOf(view, { ...seen, ports: [{ ...seen.ports[0]!, ...change }] }).join('\n')
    const silent = { readingsPerS: null, faults: 0, heard: [], quietS: 3.5 }
    expect(port(silent)).toContain('Nothing yet: switched on? right port and baud?')
    expect(port({ ...silent, asked: true })).toContain('No answer: switched on? right port and baud?')
    expect(port({ ...silent, quietS: 1 })).not.toContain('switched on')
    expect(port({ ...silent, link: 'lost', quietS: null })).not.toContain('switched on')
    expect(port({ readingsPerS: null })).toContain('Nothing can be read: right baud, driver, options?')
    expect(port({})).not.toContain('Nothing can be read')
  })
  test('keeps within every size', () => {
    for (const [columns, height] of [
      [140, 45],
      [50, 14],
      [20, 6],
    ] as const) {
      const shown = rowsOf(view, { ...seen, ports: [...seen.ports, ...seen.ports] }, columns, height)
      expect(shown.length).toBeLessThan(height)
      for (const row of shown) expect(row.length).toBeLessThanOrEqual(columns)
    }
  })
})
