// The fields of a rig file, made from the drivers' own data: instruments, ports, options, accuracy, and the object that the file holds.

import { pressureUnitNames } from '../../core/model/units.ts'
import { type Json, jsonOf, valuesOf } from './form-json.ts'
import type { Field, FormRow, Values } from './form-spec.ts'

/** What the form needs of a driver: its id, its title and its options as data. */
export type DriverForm = {
  id: string
  title: string
  baudRate: number
  options: Readonly<
    Record<
      string,
      {
        kind: string
        help: string
        default: string | number
        values?: readonly string[]
        unit?: string
        min?: number
        max?: number
      }
    >
  >
}

/** Instruments of a rig, as they stand in its file. */
export type Instrument = 'manometer' | 'meter' | 'bridge'

const text = (name: string, label: string, help: string, width = 16): Field => ({
  ...{ name, label, kind: 'text', help, width },
})
const number = (name: string, label: string, help: string, more: Partial<Field> = {}): Field => ({
  ...{ name, label, kind: 'number', help, width: 8 },
  ...more,
})
const choice = (
  name: string,
  label: string,
  values: readonly string[],
  help: string,
  more: Partial<Field> = {},
): Field => ({
  ...{ name, label, kind: 'choice', values, help },
  ...more,
})
const unit = (name: string) => choice(name, '', pressureUnitNames, 'Unit of the number before it.')

const nameRow: FormRow = {
  label: 'name of the file',
  fields: [text('file', '', 'Letters, digits, _ and -: `run --rig NAME` finds it again.', 24)],
}

/** Which instruments the values speak of. */
export function instrumentsOf(values: Values): readonly Instrument[] {
  return values['shape'] === 'one board' ? ['bridge'] : ['manometer', 'meter']
}

/** Rows of the form for these values; a rig that has its file keeps its name. */
export function rigRows(values: Values, drivers: readonly DriverForm[], isNew: boolean): readonly FormRow[] {
  const device = (at: Instrument): FormRow[] => [
    {
      label: at === 'bridge' ? 'board' : at,
      fields: [
        choice(
          `${at}.driver`,
          'driver',
          drivers.map(({ id }) => id),
          driverHelp(values[`${at}.driver`], drivers),
        ),
      ],
    },
    {
      label: '  port',
      fields: [
        text(`${at}.port.path`, '', 'Such as /dev/ttyUSB0 or COM3; Ctrl-P shows the ports there are.', 24),
        number(
          `${at}.port.baudRate`,
          'baud',
          `Empty: the driver's own ${driverOf(values[`${at}.driver`], drivers)?.baudRate ?? ''}.`,
        ),
      ],
    },
    ...optionRows(at, driverOf(values[`${at}.driver`], drivers)),
  ]
  const manometer = (at: Instrument): FormRow[] => [
    {
      label: '  sign',
      fields: [
        choice(
          `${at}.suctionSign`,
          '',
          ['-1', '1'],
          '-1: it shows what pushes the switch as a negative number. Ctrl-L proves it by a small pull.',
          { numeric: true },
        ),
      ],
    },
    {
      label: '  last digit',
      fields: [number(`${at}.digit.value`, '', 'The smallest step of the display.'), unit(`${at}.digit.unit`)],
    },
    {
      label: '  accuracy',
      fields: [
        number(
          `${at}.accuracy.ofReading`,
          'of reading',
          'As a fraction: 0.005 is 0.5 %. From its data sheet or certificate.',
        ),
        number(`${at}.accuracy.ofFullScale`, 'of scale', 'As a fraction of the full scale: 0.005 is 0.5 %.'),
      ],
    },
    {
      label: '  full scale',
      fields: [
        number(
          `${at}.accuracy.fullScale.value`,
          '',
          'What the accuracy of scale is a part of. Without accuracy nothing can pass.',
        ),
        unit(`${at}.accuracy.fullScale.unit`),
      ],
    },
    {
      label: '  certificate',
      fields: [
        text(`${at}.identity.serial`, 'serial', 'Serial number of the manometer.', 12),
        text(`${at}.identity.certificate`, 'number', 'Number of its certificate.', 12),
        text(`${at}.identity.due`, 'due', 'Last day on which it is valid, such as 2027-03-31.', 11),
      ],
    },
  ]
  const contact = (at: Instrument): FormRow[] => [
    {
      label: '  leads on',
      fields: [
        choice(
          `${at}.pair`,
          '',
          ['com-no', 'com-nc', 'network'],
          'The pair the leads are meant to be on; network: the three resistors.',
        ),
        number(`${at}.leadsOhm`, 'leads', 'Resistance of the leads, taken off each reading; empty: 0.', {
          unit: 'ohm',
        }),
      ],
    },
    {
      label: '  contact',
      fields: [
        number(`${at}.closedBelowOhm`, 'closed below', 'Empty: 10 ohm.', { unit: 'ohm' }),
        number(`${at}.openAboveOhm`, 'open above', 'Empty: 1000 ohm.', { unit: 'ohm' }),
      ],
    },
  ]
  const devices =
    values['shape'] === 'one board'
      ? grouped('board', [...device('bridge'), ...manometer('bridge'), ...contact('bridge')])
      : [
          ...grouped('manometer', [...device('manometer'), ...manometer('manometer')]),
          ...grouped('meter', [...device('meter'), ...contact('meter')]),
        ]
  return [
    ...(isNew ? [nameRow] : []),
    {
      label: 'name of the rig',
      fields: [text('name', '', 'As it stands in each recording, such as north bench.', 24)],
    },
    {
      label: 'instruments',
      fields: [
        choice(
          'shape',
          '',
          ['manometer and meter', 'one board'],
          'Two instruments at two ports, or one board that is both.',
        ),
      ],
    },
    ...devices,
  ]
}

const driverOf = (id: string | undefined, drivers: readonly DriverForm[]) => drivers.find((driver) => driver.id === id)
const driverHelp = (id: string | undefined, drivers: readonly DriverForm[]) =>
  driverOf(id, drivers)?.title ?? 'How the instrument talks; ← → chooses.'

/** The rows of one instrument, whose first has its name already. */
const grouped = (group: string, rows: readonly FormRow[]): FormRow[] =>
  rows.map((each, i) => (i === 0 ? each : { ...each, group }))

/** `pressureItem` as `pressure item`; a unit at its end stands behind the field. */
function optionWords(name: string, unit = ''): string {
  const ends = unit !== '' && name.toLowerCase().endsWith(unit.toLowerCase()) && name.length > unit.length
  const bare = ends ? name.slice(0, -unit.length) : name
  return bare.replace(/([a-z\d])([A-Z])/g, '$1 $2').toLowerCase()
}

function optionRows(at: Instrument, driver: DriverForm | undefined): FormRow[] {
  return Object.entries(driver?.options ?? {}).map(([name, spec]) => {
    const range = spec.min === undefined ? '' : ` ${spec.min} to ${spec.max} ${spec.unit ?? ''}.`
    const help = `${spec.help}${range} Empty: ${spec.default === '' ? 'nothing' : spec.default}.`
    const field = `${at}.options.${name}`
    const words = optionWords(name, spec.unit)
    if (spec.kind === 'choice') return row(words, choice(field, '', ['', ...(spec.values ?? [])], help))
    if (spec.kind === 'number')
      return row(words, number(field, '', help, spec.unit === undefined ? {} : { unit: spec.unit }))
    return row(words, text(field, '', help, 24))
  })
}

const row = (words: string, field: Field): FormRow => ({ label: `    ${words}`, fields: [field] })

/** A rig that nothing is known of yet. */
export const emptyRig: Json = { manometer: { suctionSign: -1 }, meter: { pair: 'com-no' } }

/** What stands in the form for the rig `json`. */
export function rigValues(json: Json, drivers: readonly DriverForm[]): Values {
  const shape = json['bridge'] ? 'one board' : 'manometer and meter'
  const first = drivers[0]?.id ?? ''
  const named: Values = { shape, file: '' }
  const stated = valuesOf(
    json,
    [...instrumentsOf(named), 'bridge'].map((at) => text(`${at}.driver`, '', '')),
  )
  const chosen = Object.fromEntries(Object.entries(stated).map(([name, id]) => [name, id || first]))
  const fields = allFields({ ...named, ...chosen }, drivers)
  const values = { ...named, ...valuesOf(json, fields), shape, ...chosen }
  return {
    ...defaults,
    ...Object.fromEntries(Object.entries(values).filter(([name, value]) => value !== '' || !(name in defaults))),
  }
}

/** What is chosen where nothing was stated; a unit alone states nothing yet. */
const defaults: Values = Object.fromEntries(
  (['manometer', 'bridge'] as const)
    .flatMap((at) => [
      [`${at}.suctionSign`, '-1'],
      [`${at}.digit.unit`, 'inH2O'],
      [`${at}.accuracy.fullScale.unit`, 'inH2O'],
    ])
    .concat((['meter', 'bridge'] as const).map((at) => [`${at}.pair`, 'com-no'])),
)

const allFields = (values: Values, drivers: readonly DriverForm[]) =>
  rigRows(values, drivers, false).flatMap(({ fields }) => fields)

/** The object of the file: `base` with what the form says; instruments and options that the form no longer has are gone. */
export function rigJson(base: Json, values: Values, drivers: readonly DriverForm[]): Json {
  const kept = { ...values }
  const instruments = instrumentsOf(values)
  const accuracyOf = (at: Instrument) =>
    ['ofReading', 'ofFullScale', 'fullScale.value'].map((name) => `${at}.accuracy.${name}`)
  const isStated = (at: Instrument) => accuracyOf(at).some((name) => (values[name] ?? '').trim() !== '')
  for (const at of instruments)
    if (!isStated(at)) kept[`${at}.accuracy.fullScale.unit`] = ''
    else for (const name of accuracyOf(at).slice(0, 2)) kept[name] = (values[name] ?? '').trim() || '0'
  const rest = Object.fromEntries(
    Object.entries(base)
      .filter(([key]) => !['manometer', 'meter', 'bridge'].includes(key) || instruments.includes(key as Instrument))
      .map(([key, value]) =>
        instruments.includes(key as Instrument)
          ? [key, cleared(value as Json, isStated(key as Instrument))]
          : [key, value],
      ),
  )
  return jsonOf(
    rest,
    kept,
    allFields(values, drivers).filter(({ name }) => name !== 'shape'),
  )
}

/** An instrument without its options, and without what stood beside an accuracy that is no longer stated. */
function cleared(instrument: Json, hasAccuracy: boolean): Json {
  const gone = hasAccuracy ? ['options'] : ['options', 'accuracy']
  return Object.fromEntries(Object.entries(instrument).filter(([key]) => !gone.includes(key)))
}
