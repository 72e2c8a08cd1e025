// The forms of part and rig against their files: every field is there, nothing that a file had is lost, and only what was changed is.
import { describe, expect, test } from 'vitest'
import { rigMistakes } from '../../../src/commands/check-setup.ts'
import { rigDoubts } from '../../../src/commands/doubt-setup.ts'
import { type Field, fieldsOf } from '../../../src/core/model/fields.ts'
import { partFileSchema } from '../../../src/core/model/part.ts'
import { rigFileSchema } from '../../../src/core/model/rig.ts'
import { loadDrivers } from '../../../src/load-drivers.ts'
import { createForm, formState } from '../../../src/terminal/screens/form.ts'
import type { FormRow, FormSpec, Values } from '../../../src/terminal/screens/form-spec.ts'
import { partJson, partRows, partValues } from '../../../src/terminal/screens/part-form.ts'
import { rigFields, rigFollow, rigJson, rigRows, rigValues } from '../../../src/terminal/screens/rig-form.ts'
import { withoutEntry } from '../../../src/terminal/screens/setup-fields.ts'
import { type Json, recordedSetups, wholeBoard, wholePart, wholeRig } from '../../harness/whole-setups.ts'
import { pressAll, typed } from './press.ts'

const drivers = await loadDrivers()
const forms = [...drivers.values()]
const part = { rows: () => partRows(false), values: partValues, json: partJson }
const rig = {
  rows: (values: Values) => rigRows(values, forms, false),
  values: (json: Json) => rigValues(json, forms),
  json: (base: Json, values: Values) => rigJson(base, values, forms),
}
const namesIn = (rows: readonly FormRow[]) => rows.flatMap(({ fields }) => fields.map(({ name }) => name))
const leaves = (fields: readonly Field[]) =>
  fields.filter(({ kind }) => ['text', 'number', 'choice'].includes(kind)).map(({ path }) => path)
const general = (name: string) => name.replace(/\.\d+\./g, '.*.')

describe('every field of the schema', () => {
  test('is in the form of a part', () => {
    expect(namesIn(partRows(false)).sort()).toEqual(leaves(fieldsOf(partFileSchema)).sort())
  })
  test('is in the form of a rig, what waits for a choice once that is made', () => {
    const names = [wholeRig, wholeBoard].flatMap((json) =>
      namesIn(rig.rows({ ...rig.values(json), 'decision.rule': 'risk' })).map(general),
    )
    expect(leaves(fieldsOf(rigFileSchema)).filter((path) => !names.includes(path))).toEqual([])
  })
  test('is shown while it states something, and else only where it can matter', () => {
    const shown = (change: Values) => namesIn(rig.rows({ ...rig.values({}), ...change }))
    expect(shown({})).not.toContain('decision.risk')
    expect(shown({})).toContain('decision.guardFactor')
    expect(shown({ 'decision.rule': 'risk' })).toContain('decision.risk')
    expect(shown({ 'decision.rule': 'risk' })).not.toContain('decision.guardFactor')
    expect(shown({ 'decision.rule': 'simple', 'decision.risk': '5 %' })).toContain('decision.risk')
    expect(shown({})).not.toContain('manometer.accuracy.coverage')
    expect(shown({ 'manometer.accuracy.distribution': 'normal' })).toContain('manometer.accuracy.coverage')
    expect(shown({}).filter((name) => name.startsWith('bridge.'))).toEqual([])
  })
})

const cases: [string, typeof rig, Json][] = [
  ['a part with every field', part, wholePart],
  ['a rig with every field', rig, wholeRig],
  ['a board with every field', rig, wholeBoard],
  ...recordedSetups.flatMap((setup): typeof cases => [
    [`the part of ${setup.name}`, part, setup.part],
    [`the rig of ${setup.name}`, rig, setup.rig],
  ]),
]

describe.each(cases)('%s', (_, form, json) => {
  test('comes back as it was where nothing was changed, in its order', () => {
    expect(JSON.stringify(form.json(json, form.values(json)))).toBe(JSON.stringify(json))
  })
})

/** The paths of all that is stated in `json`. */
function pathsIn(json: unknown, path = ''): string[] {
  if (typeof json !== 'object' || json === null) return [path]
  return Object.entries(json).flatMap(([key, value]) => pathsIn(value, path === '' ? key : `${path}.${key}`))
}
const at = (json: Json, path: string) =>
  path.split('.').reduce<unknown>((inner, key) => (inner as Json | undefined)?.[key], json)

describe.each(cases.slice(0, 3))('%s, one field changed', (_, form, json) => {
  const values = form.values(json)
  test.each(namesIn(form.rows(values)).filter((name) => name !== 'shape' && at(json, name) !== undefined))(
    '%s is the only one that changes',
    (name) => {
      // A driver that is not there would take its options with it.
      if (name.endsWith('.driver')) return
      const after = form.json(json, { ...values, [name]: 'changed' })
      expect(at(after, name)).toBe('changed')
      for (const path of pathsIn(json))
        if (path !== name) expect([path, at(after, path)]).toEqual([path, at(json, path)])
      expect(pathsIn(after).sort()).toEqual(pathsIn(json).sort())
    },
  )
})

describe('what is not stated', () => {
  test('stays as it was: null, an empty object, an option that the driver does not know, a unit in another spelling', () => {
    const odd = {
      manometer: {
        ...{ driver: 'ascii-line', suctionSign: -1, digit: { value: 1, unit: 'in wc' }, zero: null },
        ...{ identity: {}, accuracy: null, options: { colour: 'red' } },
      },
      meter: { driver: 'ascii-line', pair: 'com-no', port: null },
      lag: null,
    }
    expect(rigJson(odd, rigValues(odd, forms), forms)).toEqual(odd)
    const changed = { ...rigValues(odd, forms), name: 'north' }
    expect(rigJson(odd, changed, forms)).toEqual({ ...odd, name: 'north' })
  })
  test('of a rig with too many instruments stays, until it is said which of them there are', () => {
    const both = { ...wholeRig, bridge: wholeBoard['bridge'] }
    expect(rig.json(both, rig.values(both))).toEqual(both)
    const chosen = { ...rig.values(both), shape: 'manometer and meter' }
    expect(Object.keys(rig.json(both, chosen)).sort()).toEqual(Object.keys(wholeRig).sort())
  })
  test('is left out with its unit and the choices beside it, an accuracy whole', () => {
    const values = rig.values(wholeRig)
    const empty = ['ofReading', 'ofFullScale', 'fullScale.value', 'hysteresis', 'coverage'].map((end) => [
      `manometer.accuracy.${end}`,
      '',
    ])
    const after = rig.json(wholeRig, {
      ...values,
      ...Object.fromEntries(empty),
      'lag.valueS': '',
      'lag.uS': '',
      'lag.n': '',
    })
    expect(after['lag']).toBeUndefined()
    expect((after['manometer'] as Json)['accuracy']).toBeUndefined()
    expect((after['manometer'] as Json)['digit']).toEqual({ value: 0.001, unit: 'inH2O' })
  })
  test('of a choice alone says what it says', () => {
    const simple = rig.json({}, { ...rig.values({}), 'decision.rule': 'simple' })
    expect(simple['decision']).toEqual({ rule: 'simple' })
    expect(rig.json({}, rig.values({}))['decision']).toBeUndefined()
  })
})

describe('the points of a certificate', () => {
  const spec: FormSpec = {
    ...{ title: 'Rig', rows: rig.rows, check: () => [], without: withoutEntry },
    follow: (values) => rigFollow(values, forms),
    ...{ done: { short: 'save', does: 'Save.', enter: false }, back: { short: 'back', does: 'Back.' } },
  }
  const form = createForm(spec)
  const start = (json: Json, name: string) => ({ ...formState(spec, rig.values(json)), at: name })
  const list = 'manometer.calibration.points'
  const calibration = (json: Json, values: Values) =>
    at(rig.json(json, values), 'manometer.calibration') as Json | undefined

  test('are added in the empty row at their end, and there is always one', () => {
    const keys = [...typed('-1'), 'tab', ...typed('0.003'), 'tab', ...typed('0.002')]
    const { own } = pressAll(form, start(wholeRig, `${list}.2.reading`), ...keys)
    expect(calibration(wholeRig, own.values)?.['points']).toEqual([
      { reading: 0, correction: 0, U: 0.001 },
      { reading: -0.5, correction: 0.002, U: 0.002 },
      { reading: -1, correction: 0.003, U: 0.002 },
    ])
    expect(namesIn(spec.rows(own.values))).toContain(`${list}.3.reading`)
    expect(namesIn(spec.rows(own.values))).not.toContain(`${list}.4.reading`)
  })
  test('are taken away with Ctrl-D, and what is behind moves up; elsewhere that key says why not', () => {
    const { own } = pressAll(form, start(wholeRig, `${list}.0.correction`), 'ctrl-d')
    expect(calibration(wholeRig, own.values)?.['points']).toEqual([{ reading: -0.5, correction: 0.002, U: 0.002 }])
    expect(pressAll(form, start(wholeRig, 'name'), 'ctrl-d')).toMatchObject({
      own: { values: rig.values(wholeRig) },
      said: 'Ctrl-D remove: not now, this row is not an entry of a list.',
    })
  })
  test('begin a calibration, whose unit follows the last digit’s, and end it with the last of them', () => {
    const values = rig.values({})
    const begun = pressAll(form, start({}, 'manometer.digit.unit'), 'k', 'tab', 'tab').own
    expect(begun.values['manometer.calibration.unit']).toBe('kPa')
    const one = { ...begun.values, [`${list}.0.reading`]: '0' }
    expect(calibration({}, one)).toEqual({ unit: 'kPa', points: [{ reading: 0 }] })
    expect(calibration({}, values)).toBeUndefined()
  })
  test('are named by their place where something is wrong', () => {
    const told = (change: Values) => {
      const values = { ...rig.values(wholeRig), ...change }
      return rigMistakes(rig.json(wholeRig, values), drivers, rigFields(values, forms)).map(({ text }) => text)
    }
    expect(told({ [`${list}.1.U`]: '' })).toEqual([
      'manometer calibration point 2 U is missing; it must be a number, such as 0.002.',
    ])
    expect(told({ [`${list}.1.U`]: '-1' })).toEqual([
      'manometer calibration point 2 U is -1 inH2O; it must be at least 0 inH2O.',
    ])
    expect(told({ [`${list}.1.reading`]: '', [`${list}.1.correction`]: '', [`${list}.1.U`]: '' })).toEqual([
      'manometer calibration points: there is 1, and there must be at least 2.',
    ])
  })
})

describe('a share', () => {
  const name = 'manometer.accuracy.ofFullScale'
  const read = (text: string) => at(rig.json(wholeRig, { ...rig.values(wholeRig), [name]: text }), name)
  test('is shown in percent, and read with its sign or as a bare share', () => {
    expect(rig.values(wholeRig)).toMatchObject({ [name]: '0.5 %', 'decision.risk': '2.5 %' })
    expect(read('0.25 %')).toBe(0.0025)
    expect(read('0.25%')).toBe(0.0025)
    expect(read('0.0025')).toBe(0.0025)
    expect(read('half')).toBe('half')
  })
  test('that is hardly meant is doubted with both readings, and is in nobody’s way', () => {
    const doubts = (text: string) =>
      rigDoubts(rig.json(wholeRig, { ...rig.values(wholeRig), [name]: text }), '2027-01-01')
    expect(doubts('0.25')).toEqual([
      {
        ...{ field: name, doubt: true },
        text: 'manometer accuracy of scale: 0.25 means 25 % of full scale; 0.25 % is 0.0025.',
      },
    ])
    expect(doubts('0.25 %')).toEqual([])
    expect(doubts('0.05')).toEqual([])
  })
  test('above one is refused with its percentage, and with what was meant', () => {
    const told = (text: string) => {
      const values = { ...rig.values(wholeRig), [name]: text }
      return rigMistakes(rig.json(wholeRig, values), drivers).map((mistake) => mistake.text)
    }
    expect(told('2')).toEqual(['manometer accuracy of scale is 2 (200 %); it must be at most 1 (100 %); 2 % is 0.02.'])
    expect(told('x')).toEqual(['manometer accuracy of scale is "x"; it must be a number, such as 0.5 %.'])
  })
})
