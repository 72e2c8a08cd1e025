// Parts and rigs for the tests of their files: one with every field there is, made of the schema's own examples, and those of the recordings.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { exampleOf, type Field, fieldsOf } from '../../src/core/model/fields.ts'
import { partFileSchema } from '../../src/core/model/part.ts'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { goldenFolder, goldenNames } from '../recordings/golden.ts'

export type Json = Record<string, unknown>

const points = [
  { reading: 0, correction: 0, U: 0.001 },
  { reading: -0.5, correction: 0.002, U: 0.002 },
]

/** A rig of these instruments with every field that they have. */
function rigOf(instruments: readonly string[]): Json {
  const others = ['manometer', 'meter', 'bridge'].filter((name) => !instruments.includes(name))
  const isIn = ({ path }: Field) => !others.includes(path.split('.')[0] ?? '')
  const rig = exampleOf(fieldsOf(rigFileSchema), isIn)
  for (const name of ['manometer', 'manometer-2', 'bridge']) {
    const { calibration } = (rig[name] ?? {}) as { calibration?: Json }
    if (calibration) calibration['points'] = points
  }
  return rig
}

export const wholePart: Json = exampleOf(fieldsOf(partFileSchema), () => true)
export const wholeRig: Json = rigOf(['manometer', 'meter'])
export const wholeBoard: Json = rigOf(['bridge'])

/** Part and rig of each recording that is kept, as its first line has them. */
export const recordedSetups = goldenNames.map((name) => {
  const [first = ''] = readFileSync(join(goldenFolder, `${name}.run`), 'utf8').split('\n', 1)
  const { part, rig } = JSON.parse(first.slice(9)) as { part: Json; rig: Json }
  return { name, part, rig }
})
