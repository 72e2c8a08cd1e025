// The form of a rig: made from the drivers' own data, and the file that it makes; and what is seen while a rig is watched.
import { describe, expect, test } from 'vitest'
import { rigMistakes } from '../../../src/commands/check-setup.ts'
import { loadDrivers } from '../../../src/load-drivers.ts'
import { type DriverForm, emptyRig, rigJson, rigRows, rigValues } from '../../../src/terminal/screens/rig-form.ts'
import { createRigView, type RigViewState } from '../../../src/terminal/screens/rig-view.ts'
import { pressAll, rowsOf } from './press.ts'

const drivers = await loadDrivers()
const forms: DriverForm[] = [...drivers.values()].map(({ id, title, serial, options }) => ({
  ...{ id, title, options },
  baudRate: serial.baudRate,
}))
const names = (values: Record<string, string>) =>
  rigRows(values, forms, true).flatMap(({ fields }) => fields.map(({ name }) => name))
const whole = {
  name: 'north bench',
  manometer: {
    driver: 'ascii-line',
    options: { unit: 'inH2O' },
    suctionSign: -1,
    port: { path: '/dev/ttyUSB0', baudRate: 9600, dataBits: 8 },
    accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: 2, unit: 'inH2O' }, distribution: 'rectangular' },
    digit: { value: 0.001, unit: 'inH2O' },
    identity: { serial: '7', due: '2027-03-31' },
  },
  meter: { driver: 'scpi-query', options: { command: 'READ?', intervalMs: 200 }, pair: 'com-no', leadsOhm: 0.2 },
  lag: { valueS: 0.06, uS: 0.02, n: 14 },
}

describe('the form of a rig', () => {
  test('has a field for every option of the driver chosen, and none of another', () => {
    const values = rigValues(whole, forms)
    for (const name of Object.keys(drivers.get('scpi-query')!.options))
      expect(names(values)).toContain(`meter.options.${name}`)
    expect(names(values)).not.toContain('manometer.options.command')
    expect(names({ ...values, 'manometer.driver': 'scpi-query' })).toContain('manometer.options.command')
  })
  test('gives a rig that was opened and not changed back as it was, what it has no field for too', () => {
    expect(rigJson(whole, rigValues(whole, forms), forms)).toEqual(whole)
  })
  test('drops the options of a driver that is no longer chosen', () => {
    const values = { ...rigValues(whole, forms), 'meter.driver': 'ascii-line' }
    const json = rigJson(whole, values, forms)
    expect(json['meter']).toEqual({ driver: 'ascii-line', pair: 'com-no', leadsOhm: 0.2 })
    expect(rigMistakes(json, drivers)).toEqual([])
  })
  test('names what is missing and what is out of range, with its unit', () => {
    const empty = rigMistakes(rigJson(emptyRig, rigValues(emptyRig, forms), forms), drivers)
    expect(empty).toEqual([
      { field: 'manometer.digit.value', text: 'manometer.digit.value is missing; it must be a number.' },
    ])
    const values = { ...rigValues(whole, forms), 'meter.options.intervalMs': '5' }
    expect(rigMistakes(rigJson(whole, values, forms), drivers)).toEqual([
      {
        field: 'meter.options',
        text: 'meter: Option "intervalMs" of the driver "scpi-query" is 5; it must be a number from 20 to 10000 ms.',
      },
    ])
  })
  test('of one board stands in place of both', () => {
    const values = {
      ...rigValues(whole, forms),
      shape: 'one board',
      'bridge.driver': 'ascii-line',
      'bridge.digit.value': '1',
      'bridge.digit.unit': 'Pa',
      'bridge.pair': 'com-no',
    }
    const json = rigJson(whole, values, forms)
    expect(Object.keys(json)).toEqual(['name', 'lag', 'bridge'])
    expect(rigMistakes(json, drivers)).toEqual([])
  })
})

const seen: RigViewState = {
  ports: [
    {
      ...{ name: 'manometer', where: '/dev/ttyUSB0 9600 baud', link: 'open', readingsPerS: 10, faults: 1 },
      heard: [
        { raw: '-0.012 inH2O\r\n', read: '-0.012 inH2O', bad: false },
        { raw: '\x1b[2J?!', read: 'no number in the line', bad: true },
      ],
    },
  ],
  check: {
    rest: { meanPa: 0.2, noisePa: 0.1 },
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
    expect(text).toContain('-1: the pull was shown as -0.012 inH2O (-3 Pa)')
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
      said: 'Enter take over: not now, the sign is not proved yet.',
    })
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
