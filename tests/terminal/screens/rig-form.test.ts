// The form of a rig: made from the schema and the drivers' own data, and the file that it makes.

import { describe, expect, test } from 'vitest'
import { rigMistakes } from '../../../src/commands/check-setup.ts'
import { rigDoubts } from '../../../src/commands/doubt-setup.ts'
import { loadDrivers } from '../../../src/load-drivers.ts'
import { createForm, formState } from '../../../src/terminal/screens/form.ts'
import type { FormSpec } from '../../../src/terminal/screens/form-spec.ts'
import { type DriverForm, rigFields, rigJson, rigRows, rigValues } from '../../../src/terminal/screens/rig-form.ts'
import { pressAll, rowsOf, typed } from './press.ts'

const drivers = await loadDrivers()
const forms: DriverForm[] = [...drivers.values()]
const names = (values: Record<string, string>) =>
  rigRows(values, forms, true).flatMap(({ fields }) => fields.map(({ name }) => name))
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
  test('says what an empty field comes to: what the driver has, what the schema has', () => {
    const help = (name: string) =>
      rigRows(rigValues(whole, forms), forms, true)
        .flatMap(({ fields }) => fields)
        .find((field) => field.name === name)?.help
    expect(help('manometer.port.baudRate')).toMatch(/Empty: 9600\./)
    expect(help('meter.options.intervalMs')).toMatch(/20 to 10000 ms\. Empty: 200 ms\.$/)
    expect(help('meter.closedBelowOhm')).toMatch(/Empty: 10 ohm\./)
  })
  test('has a second manometer where that is chosen, and drops it where it is not', () => {
    const values = rigValues(whole, forms)
    expect(values['second']).toBe('none')
    expect(names(values).filter((name) => name.startsWith('manometer-2'))).toEqual([])
    const second = { ...whole.manometer, port: { path: '/dev/ttyUSB2' } }
    const two = { ...whole, 'manometer-2': second }
    const shown = rigValues(two, forms)
    expect(names(shown)).toContain('manometer-2.port.path')
    expect(rigJson(two, shown, forms)).toEqual(two)
    expect(rigJson(two, { ...shown, second: 'none' }, forms)).toEqual(whole)
    const { accuracy: _, ...bare } = second
    const bad = { ...whole, 'manometer-2': bare }
    expect(rigMistakes(bad, drivers).map(({ field }) => field)).toEqual(['manometer-2.accuracy'])
  })
  test('drops the options of a driver that is no longer chosen', () => {
    const values = { ...rigValues(whole, forms), 'meter.driver': 'ascii-line' }
    const json = rigJson(whole, values, forms)
    expect(json['meter']).toEqual({ driver: 'ascii-line', pair: 'com-no', leadsOhm: 0.2 })
    expect(rigMistakes(json, drivers)).toEqual([])
  })
  test('names what is missing and what is out of range, with its unit', () => {
    const empty = rigMistakes(rigJson({}, rigValues({}, forms), forms), drivers)
    expect(empty).toEqual([
      { field: 'manometer.digit.value', text: 'manometer last digit is missing; it must be a number, such as 0.001.' },
    ])
    const told = (change: Record<string, string>) =>
      rigMistakes(
        rigJson(whole, { ...rigValues(whole, forms), ...change }, forms),
        drivers,
        rigFields(rigValues(whole, forms), forms),
      )
    expect(told({ 'meter.options.intervalMs': '5' })).toEqual([
      {
        field: 'meter.options.intervalMs',
        text: 'meter options interval is 5; it must be a number from 20 to 10000 ms.',
      },
    ])
    expect(told({ 'meter.closedBelowOhm': '2000' })[0]?.text).toBe(
      'meter closed below: 2000 ohm is not below the 1000 ohm above which it is open.',
    )
    expect(told({ 'manometer.identity.due': 'soon' })[0]?.text).toBe(
      'manometer certificate due is "soon"; it must be a date, such as 2027-03-31.',
    )
  })
  test('doubts an expired certificate, an empty port and a manometer of unknown accuracy, as a test would', () => {
    const doubts = (change: Record<string, string>, today = '2027-03-31') =>
      rigDoubts(rigJson(whole, { ...rigValues(whole, forms), ...change }, forms), today).map(({ text }) => text)
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
