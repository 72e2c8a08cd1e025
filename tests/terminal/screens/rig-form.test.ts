// The form of a rig: made from the drivers' own data, and the file that it makes; and what is seen while a rig is watched.

import { describe, expect, test } from 'vitest'
import { rigMistakes } from '../../../src/commands/check-setup.ts'
import { rigDoubts } from '../../../src/commands/doubt-setup.ts'
import { loadDrivers } from '../../../src/load-drivers.ts'
import { createForm, formState } from '../../../src/terminal/screens/form.ts'
import { fieldNames } from '../../../src/terminal/screens/form-mistakes.ts'
import type { FormSpec } from '../../../src/terminal/screens/form-spec.ts'
import { type DriverForm, emptyRig, rigJson, rigRows, rigValues } from '../../../src/terminal/screens/rig-form.ts'
import { createRigView, type RigViewState } from '../../../src/terminal/screens/rig-view.ts'
import { pressAll, rowsOf, typed } from './press.ts'

const drivers = await loadDrivers()
const forms: DriverForm[] = [...drivers.values()].map(({ id, title, serial, options }) => ({
  ...{ id, title, options },
  baudRate: serial.baudRate,
}))
const names = (values: Record<string, string>) =>
  rigRows(values, forms, true).flatMap(({ fields }) => fields.map(({ name }) => name))
const called = (path: string) => fieldNames(rigRows(rigValues(whole, forms), forms, true))(path)
const accuracy = ['ofReading', 'ofFullScale', 'fullScale.value'].map((name) => `manometer.accuracy.${name}`)
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
    const empty = rigMistakes(rigJson(emptyRig, rigValues(emptyRig, forms), forms), drivers, called)
    expect(empty).toEqual([
      { field: 'manometer.digit.value', text: 'manometer last digit is missing; it must be a number.' },
    ])
    const told = (change: Record<string, string>) =>
      rigMistakes(rigJson(whole, { ...rigValues(whole, forms), ...change }, forms), drivers, called)
    expect(told({ 'meter.options.intervalMs': '5' })).toEqual([
      {
        field: 'meter.options.intervalMs',
        text: 'meter interval is 5; it must be a number from 20 to 10000 ms.',
      },
    ])
    expect(told({ 'meter.closedBelowOhm': '2000' })[0]?.text).toBe(
      'meter contact closed below: 2000 ohm is not below the 1000 ohm above which it is open.',
    )
    expect(told({ 'manometer.identity.due': 'soon' })[0]?.text).toBe(
      'manometer certificate due is "soon"; it must be a date such as "2027-03-31".',
    )
  })
  test('doubts an expired certificate, an empty port and a manometer of unknown accuracy, as a test would', () => {
    const doubts = (change: Record<string, string>, today = '2027-03-31') =>
      rigDoubts(rigJson(whole, { ...rigValues(whole, forms), ...change }, forms), today, called).map(({ text }) => text)
    expect(doubts({ 'meter.port.path': '/dev/ttyUSB1' })).toEqual([])
    expect(doubts({})).toEqual(['meter port is empty; a test needs it.'])
    expect(doubts({ 'meter.port.path': 'COM4', 'manometer.identity.due': '2020-01-31' })).toEqual([
      'manometer certificate due is 2020-01-31, which is past; a test with this manometer is not assessed.',
    ])
    const bare = { 'meter.port.path': 'COM4', ...Object.fromEntries(accuracy.map((name) => [name, ''])) }
    expect(doubts(bare)).toEqual(['manometer accuracy is not stated; without it a test is not assessed.'])
    expect(doubts({ 'manometer.digit.value': '' })).toEqual([])
  })
  test('names options in words', () => {
    const labels = rigRows(rigValues(whole, forms), forms, true).map(({ label }) => label.trim())
    expect(labels).toEqual(expect.arrayContaining(['interval', 'pressure item', 'resistance item', 'reply']))
    expect(labels.join()).not.toMatch(/[a-z][A-Z]/)
  })
  test.each([
    [80, 24],
    [50, 14],
    [40, 12],
  ])('shows the field in hand and what is typed into it at %s × %s', (columns, height) => {
    const spec: FormSpec = {
      ...{ title: 'Rig', rows: (values) => rigRows(values, forms, true), check: () => [] },
      ...{ done: { short: 'save', does: 'Save.', enter: false }, back: { short: 'back', does: 'Back.' } },
    }
    const form = createForm(spec)
    for (const { name, kind } of rigRows(rigValues(whole, forms), forms, true).flatMap(({ fields }) => fields)) {
      const state = { ...formState(spec, rigValues(whole, forms)), at: name }
      if (kind === 'choice') expect(rowsOf(form, state, columns, height).join('\n')).toMatch(/‹ .* ›/)
      else
        expect(rowsOf(form, pressAll(form, state, ...typed('zq')).own, columns, height).join('\n')).toMatch(/zq( |$)/m)
    }
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
