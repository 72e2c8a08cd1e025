// The one table of fields: made from the schemas, whole, and good for forms, help and messages.
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { calledAt, exampleOf, fieldAt, fieldsOf } from '../../../src/core/model/fields.ts'
import { lotSchema } from '../../../src/core/model/lot.ts'
import { partFileSchema } from '../../../src/core/model/part.ts'
import { rigFileSchema } from '../../../src/core/model/rig.ts'
import { about, amount, strictObject } from '../../../src/core/model/schema.ts'
import { wholeBoard, wholePart, wholeRig } from '../../harness/whole-setups.ts'

const rig = fieldsOf(rigFileSchema)

describe.each([
  ['part', partFileSchema],
  ['rig', rigFileSchema],
  ['lot', lotSchema],
])('each field of a %s', (_, schema) => {
  const leaves = fieldsOf(schema).filter(({ kind }) => kind !== 'object' && kind !== 'list')
  test('has a name of its own, a sentence of help, and an example', () => {
    expect(leaves.filter(({ help }) => !/^\S.*\.$/.test(help)).map(({ path }) => path)).toEqual([])
    expect(leaves.filter(({ example }) => example === undefined).map(({ path }) => path)).toEqual([])
    const names = leaves.map(({ called }) => called)
    expect(names.filter((name, i) => name === '' || names.indexOf(name) !== i)).toEqual([])
  })
  test('that is a number with a unit in its name states that unit', () => {
    const units: Record<string, string> = { Ohm: 'ohm', S: 's', M: 'm', Mm: 'mm', C: '°C', H: 'h', PerS: 'Pa/s' }
    for (const { path, unit } of leaves) {
      const [, end] = /[a-z](Ohm|Mm|PaPerS|S|M|C|H)$/.exec(path) ?? []
      if (end !== undefined) expect({ path, unit }).toEqual({ path, unit: units[end.replace('Pa', '')] })
    }
  })
})

test('the examples make files that are good', () => {
  expect(partFileSchema.safeParse(wholePart).error).toBeUndefined()
  expect(rigFileSchema.safeParse(wholeRig).error).toBeUndefined()
  expect(rigFileSchema.safeParse(wholeBoard).error).toBeUndefined()
})

test('a field tells its kind, its choices, what it is called, and whether the file needs it', () => {
  expect(fieldAt(rig, 'manometer.accuracy.ofFullScale')).toMatchObject({
    ...{ kind: 'number', called: 'manometer accuracy of scale', shareOf: 'full scale', unit: null },
    ...{ optional: false, nullable: false },
  })
  expect(fieldAt(rig, 'meter.closedBelowOhm')).toMatchObject({ optional: true, default: 10, unit: 'ohm' })
  expect(fieldAt(rig, 'manometer.suctionSign')).toMatchObject({ kind: 'choice', choices: [-1, 1] })
  expect(fieldAt(rig, 'manometer.options')).toMatchObject({ kind: 'options' })
  expect(fieldAt(fieldsOf(partFileSchema), 'limits.make.low')).toMatchObject({ nullable: true, optional: false })
})

test('a field in a list is named with its place', () => {
  expect(fieldAt(rig, 'manometer.calibration.points.1.U')?.path).toBe('manometer.calibration.points.*.U')
  expect(calledAt(rig, 'manometer.calibration.points.1.U')).toBe('manometer calibration point 2 U')
  expect(calledAt(rig, 'manometer.calibration.points.0')).toBe('manometer calibration point 1')
  expect(calledAt(rig, 'manometer.calibration.points')).toBe('manometer calibration points')
  expect(calledAt(rig, 'nonesuch')).toBe('nonesuch')
})

test('a new field is known by its one line in the schema', () => {
  const schema = z.strictObject({
    warmUp: amount(strictObject, z.number(), 3).nullish().meta(about('warm-up', 'What it is let down by.')),
    hose: strictObject({ boreMm: z.number().meta(about('bore', '', { unit: 'mm', example: 4 })) }).meta(
      about('hose', 'A hose.'),
    ),
  })
  expect(fieldsOf(schema).map(({ path, kind, called, help, unit }) => [path, kind, called, help, unit])).toEqual([
    ['warmUp', 'object', 'warm-up', 'What it is let down by.', null],
    ['warmUp.value', 'number', 'warm-up', 'What it is let down by.', null],
    ['warmUp.unit', 'choice', 'warm-up unit', 'Unit of the numbers beside it.', null],
    ['hose', 'object', 'hose', 'A hose.', null],
    ['hose.boreMm', 'number', 'hose bore', 'A hose.', 'mm'],
  ])
  expect(exampleOf(fieldsOf(schema), ({ path }) => path.startsWith('hose'))).toEqual({ hose: { boreMm: 4 } })
})
