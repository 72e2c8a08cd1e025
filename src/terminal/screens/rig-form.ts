// The form of a rig: the fields of its file in rows, the options of the drivers chosen among them, and the object that the file holds.
import { type Field, fieldsOf } from '../../core/model/fields.ts'
import { rigFileSchema } from '../../core/model/rig.ts'
import { type Json, jsonOf, valuesOf } from './form-json.ts'
import type { FormRow, Values } from './form-spec.ts'
import {
  endsIn,
  firstChoices,
  type Layout,
  type SetupField,
  setupFields,
  shownFields,
  unitsFollow,
} from './setup-fields.ts'
import { nameRow, setupRows } from './setup-rows.ts'

/** What the form needs of a driver: its id, its title, the settings of its port and its options as data. */
export type DriverForm = {
  id: string
  title: string
  serial: Readonly<Record<'baudRate' | 'dataBits' | 'parity' | 'stopBits', string | number>>
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

/** Instruments of a rig, as its file names them. */
export type Instrument = 'manometer' | 'manometer-2' | 'meter' | 'bridge'

/** Which instruments there are, by the values of the choice `shape`, which is the form's own. */
const shapes: Readonly<Record<string, readonly Instrument[]>> = {
  'manometer and meter': ['manometer', 'meter'],
  'one board': ['bridge'],
}
const [twoInstruments = '', oneBoard = ''] = Object.keys(shapes)
const shapeRow: FormRow = {
  label: 'instruments',
  fields: [
    {
      ...{ name: 'shape', label: '', kind: 'choice', values: Object.keys(shapes) },
      help: 'Two instruments at two ports, or one board that is both.',
    },
  ],
}

/** Whether there is a second manometer, by the values of the choice `second`, which is the form's own too. */
const [noSecond, atSwitch] = ['none', 'at the switch']
const secondRow: FormRow = {
  label: 'second manometer',
  fields: [
    {
      ...{ name: 'second', label: '', kind: 'choice', values: [noSecond, atSwitch] },
      help: 'One more at the switch end of the hose proves the line in each test, and checks the first.',
    },
  ],
}

const layout: Layout = {
  together: [
    ['pair', 'leadsOhm'],
    ['closedBelowOhm', 'openAboveOhm'],
    ['accuracy.ofReading', 'accuracy.ofFullScale'],
    ['accuracy.distribution', 'accuracy.coverage', 'accuracy.hysteresis'],
    ['calibration.unit', 'calibration.coverage', 'calibration.drift'],
  ],
  apart: ['options'],
  only: [
    { path: 'manometer', where: 'shape', is: [twoInstruments] },
    { path: 'manometer-2', where: 'second', is: [atSwitch] },
    { path: 'meter', where: 'shape', is: [twoInstruments] },
    { path: 'bridge', where: 'shape', is: [oneBoard] },
    { path: 'accuracy.coverage', where: 'accuracy.distribution', is: ['normal'] },
    { path: 'decision.guardFactor', where: 'decision.rule', is: ['', 'guarded'] },
    { path: 'decision.risk', where: 'decision.rule', is: ['risk'] },
  ],
  besides: {
    // Which of them there are is said by the choices of shape and second.
    manometer: { optional: false },
    'manometer-2': { optional: false },
    meter: { optional: false },
    bridge: { optional: false },
    'port.path': { more: 'Ctrl-P shows the ports there are.', width: 24 },
    'identity.due': { width: 11 },
    suctionSign: { more: 'Ctrl-L proves it by a small pull.' },
  },
  leadUnit: 'digit.unit',
}
const fileFields = setupFields(fieldsOf(rigFileSchema), layout)

/** The fields of the file, with what the drivers chosen say of them: their options, and how their ports are set. */
function allFields(values: Values, drivers: readonly DriverForm[]): SetupField[] {
  return fileFields.flatMap((field) => {
    const driver = drivers.find(({ id }) => id === values[`${field.path.split('.')[0]}.driver`])
    if (field.kind === 'options') return optionFields(field, driver)
    const says = Object.entries(driverSays).find(([end]) => endsIn(field.path, end))?.[1]
    return [says ? { ...field, ...says(driver, drivers) } : field]
  })
}

/** What the driver chosen says of a field of its instrument. */
const driverSays: Readonly<
  Record<string, (driver: DriverForm | undefined, all: readonly DriverForm[]) => Partial<SetupField>>
> = {
  driver: (driver, all) => ({
    ...{ kind: 'choice', choices: all.map(({ id }) => id) },
    ...(driver && { help: driver.title }),
  }),
  'port.baudRate': (driver) => ({ default: driver?.serial.baudRate }),
  'port.dataBits': (driver) => ({ default: driver?.serial.dataBits }),
  'port.parity': (driver) => ({ default: driver?.serial.parity }),
  'port.stopBits': (driver) => ({ default: driver?.serial.stopBits }),
}

/** The object of the options with a field for each that the driver has, as its own data describe it. */
function optionFields(field: SetupField, driver: DriverForm | undefined): SetupField[] {
  const options = Object.entries(driver?.options ?? {}).map(([name, spec]): SetupField => {
    const label = optionWords(name, spec.unit)
    const range = spec.min === undefined ? '' : ` ${spec.min} to ${spec.max}${spec.unit ? ` ${spec.unit}` : ''}.`
    return {
      ...field,
      ...{ path: `${field.path}.${name}`, kind: spec.kind as Field['kind'], choices: spec.values ?? [] },
      ...{ label, called: `${field.called} ${label}`, help: `${spec.help}${range}`, unit: spec.unit ?? null },
      ...{ default: spec.default, example: undefined },
    }
  })
  return [{ ...field, kind: 'object' }, ...options]
}

/** `pressureItem` as `pressure item`; a unit at its end comes behind the field. */
function optionWords(name: string, unit = ''): string {
  const ends = unit !== '' && name.toLowerCase().endsWith(unit.toLowerCase()) && name.length > unit.length
  const bare = ends ? name.slice(0, -unit.length) : name
  return bare.replace(/([a-z\d])([A-Z])/g, '$1 $2').toLowerCase()
}

/** Which instruments the values speak of. */
export const instrumentsOf = (values: Values): readonly Instrument[] => [
  ...(shapes[values['shape'] ?? ''] ?? []),
  ...(values['second'] === atSwitch ? (['manometer-2'] as const) : []),
]

/** The fields that the form has with these values. */
export const rigFields = (values: Values, drivers: readonly DriverForm[]): readonly Field[] =>
  shownFields(allFields(values, drivers), layout, values)

/** Rows of the form for these values; a rig that has its file keeps its name. */
export function rigRows(values: Values, drivers: readonly DriverForm[], isNew: boolean): readonly FormRow[] {
  const [name, ...others] = setupRows(shownFields(allFields(values, drivers), layout, values), layout)
  return [...(isNew ? [nameRow('rig')] : []), ...(name ? [name] : []), shapeRow, secondRow, ...others]
}

const shapeOf = (json: Json) => (json['bridge'] ? oneBoard : twoInstruments)
const secondOf = (json: Json) => (json['manometer-2'] ? atSwitch : noSecond)

/** What the form shows of the rig `json`, which may be empty. */
export function rigValues(json: Json, drivers: readonly DriverForm[]): Values {
  const own = { shape: shapeOf(json), second: secondOf(json) }
  const chosen = valuesOf(json, fileFields)
  const first = firstChoices(allFields(chosen, drivers), json)
  const fields = allFields({ ...chosen, ...first }, drivers)
  return rigFollow({ ...own, ...valuesOf(json, fields), ...first }, drivers)
}

export const rigFollow = (values: Values, drivers: readonly DriverForm[]): Values =>
  unitsFollow(allFields(values, drivers), layout, values)

/** The object of the file: `base` with what the form says; instruments, and options of a driver, that were given up are gone. */
export function rigJson(base: Json, values: Values, drivers: readonly DriverForm[]): Json {
  const there: readonly string[] = instrumentsOf(values)
  const isSame = values['shape'] === shapeOf(base) && values['second'] === secondOf(base)
  const gone = isSame ? [] : [...Object.values(shapes).flat(), 'manometer-2'].filter((at) => !there.includes(at))
  const kept = Object.entries(base).flatMap(([key, value]) => {
    if (gone.some((at) => at === key)) return []
    const { options, ...rest } = (value ?? {}) as Json
    const isOther = there.includes(key) && options !== undefined && rest['driver'] !== values[`${key}.driver`]
    return [[key, isOther ? rest : value]]
  })
  return jsonOf(Object.fromEntries(kept), values, rigFields(values, drivers))
}
