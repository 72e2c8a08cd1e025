// The JSON Schema of part and rig files, held against an independent checker: it takes and refuses what the program does.
import { Ajv2020 } from 'ajv/dist/2020.js'
import { describe, expect, test } from 'vitest'
import { standardSchema } from '../../../src/core/model/json-schema.ts'
import { partFileSchema } from '../../../src/core/model/part.ts'
import { rigFileSchema } from '../../../src/core/model/rig.ts'
import { type Json, recordedSetups, wholeBoard, wholePart, wholeRig } from '../../harness/whole-setups.ts'

// Strict: a word that the standard does not know is an error. A date's form is in its pattern as well.
const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, validateFormats: false })
const part = ajv.compile(standardSchema(partFileSchema, 'part'))
const rig = ajv.compile(standardSchema(rigFileSchema, 'rig'))

/** `json` with another value at a path; undefined takes the field away. */
function changed(json: Json, path: string, value: unknown): Json {
  const [key = '', ...rest] = path.split('.')
  const inner = rest.length === 0 ? value : changed((json[key] ?? {}) as Json, rest.join('.'), value)
  const { [key]: _, ...others } = json
  return inner === undefined ? others : { ...others, [key]: inner }
}

describe('the JSON Schema', () => {
  test('is of the draft that it names, with title, description and examples of the fields', () => {
    const schema = standardSchema(rigFileSchema, 'A rig') as { $schema: string; properties: { lag: Json } }
    expect(schema).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema', title: 'A rig' })
    expect(JSON.stringify(schema)).toContain('"title":"closed below"')
    expect(JSON.stringify(schema)).toContain('"description":"A contact with less is closed. In ohm.","examples":[10]')
    expect(JSON.stringify(schema)).not.toMatch(/"(label|help|shareOf|usualMost|isUnit)":/)
  })

  test('takes files with every field there is', () => {
    expect([part(wholePart), part.errors]).toEqual([true, null])
    expect([rig(wholeRig), rig.errors]).toEqual([true, null])
    expect([rig(wholeBoard), rig.errors]).toEqual([true, null])
  })

  test.each(recordedSetups.map(({ name, ...setup }) => [name, setup] as const))(
    'takes part and rig of the recording %s, as the program does where it is strict',
    (_, setup) => {
      expect(partFileSchema.safeParse(setup.part).error).toBeUndefined()
      expect([part(setup.part), part.errors]).toEqual([true, null])
      expect(rigFileSchema.safeParse(setup.rig).error).toBeUndefined()
      expect([rig(setup.rig), rig.errors]).toEqual([true, null])
    },
  )

  test.each([
    ['limitz', 1],
    ['kind', 'draft'],
    ['kind', undefined],
    ['rated.value', -1],
    ['rated.value', '0.25'],
    ['rated.unit', 'inches'],
    ['rated.onn', 'make'],
    ['limits.make.low', undefined],
    ['limits.make.low', 'none'],
    ['contact.maxOhm', 0],
    ['proof.unit', undefined],
    ['lot', 7],
  ])('and the program refuse a part whose %s is %s', (path, value) => {
    const wrong = changed(wholePart, path, value)
    expect([part(wrong), partFileSchema.safeParse(wrong).success]).toEqual([false, false])
  })

  test.each([
    ['meter', undefined],
    ['bridge', wholeBoard['bridge']],
    ['manometer.suctionSign', 0],
    ['manometer.port.dataBits', 9],
    ['manometer.port.baudRate', 9600.5],
    ['manometer.port.parity', 'mark'],
    ['manometer.identity.due', '31.3.27'],
    ['manometer.identity.due', '2027-02-30'],
    ['manometer.accuracy.ofFullScale', 2],
    ['manometer.accuracy.hysteresis', -0.1],
    ['manometer.accuracy.coverage', 0.5],
    ['manometer.calibration.points', []],
    ['manometer.calibration.points.0.reading', '0'],
    ['manometer.options', { a: [] }],
    ['manometer.digit.value', 0],
    ['meter.pair', 'no'],
    ['meter.accuracy.ofFullScale', 0.1],
    ['lag.uS', 0],
    ['hose.lengthM', 0],
    ['hose.boreInch', 0.25],
    ['proved.at', 'today'],
    ['decision.rule', 'lenient'],
    ['decision.risk', 0.6],
  ])('and the program refuse a rig whose %s is %j', (path, value) => {
    const wrong = changed(wholeRig, path, value)
    expect([rig(wrong), rigFileSchema.safeParse(wrong).success]).toEqual([false, false])
  })

  test('takes what the program has a default for, and null for what is not stated', () => {
    const bare = {
      manometer: { driver: 'x', suctionSign: 1, digit: { value: 1, unit: 'Pa' }, identity: null, zero: null },
      meter: { driver: 'y', pair: 'network' },
      lag: null,
    }
    expect([rig(bare), rigFileSchema.safeParse(bare).success]).toEqual([true, true])
  })
})
