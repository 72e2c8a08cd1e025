// The fields of a part file: what the label and the maker's document say, and the object that the file holds.

import { pressureUnitNames } from '../../core/model/units.ts'
import { type Json, jsonOf, valuesOf } from './form-json.ts'
import type { Field, FormRow, Values } from './form-spec.ts'

const limits = ['make', 'break', 'differential'] as const

const text = (name: string, label: string, help: string, width?: number): Field => ({
  ...{ name, label, kind: 'text', help },
  ...(width === undefined ? {} : { width }),
})
const number = (name: string, label: string, help: string): Field => ({ name, label, kind: 'number', help, width: 8 })
const unit = (name: string): Field => ({
  ...{ name, label: '', kind: 'choice', values: pressureUnitNames },
  help: 'Unit of the numbers in this row; ← → or a letter changes it.',
})

const limitHelp = (side: string, name: string) =>
  `${side} limit of the ${name} by the maker's document; empty where there is none. Without any the ${name} is measured, not assessed.`

const baseRows: readonly FormRow[] = [
  { label: 'model', fields: [text('model', '', 'The type on the label.', 24)] },
  {
    label: 'lot',
    fields: [
      text('lot', '', 'Lot or date code, where the label has one.'),
      text('condition', 'condition', 'Such as new, or used.'),
    ],
  },
  {
    label: 'kind',
    fields: [
      {
        ...{ name: 'kind', label: '', kind: 'choice', values: ['draft-proving', 'blockage'] },
        help: 'draft-proving: proves that there is enough draft. blockage: opens at too much pressure.',
      },
    ],
  },
  {
    label: 'rated point',
    fields: [
      number('rated.value', '', 'The pressure on the label, without sign: what pushes the switch counts as positive.'),
      unit('rated.unit'),
      {
        ...{ name: 'rated.on', label: 'on', kind: 'choice', values: ['make', 'break'] },
        help: 'make: the label names the transition on rising pressure; break: the way back.',
      },
    ],
  },
  ...limits.map((name) => ({
    label: `${name} limits`,
    fields: [
      number(`limits.${name}.low`, 'low', limitHelp('Lower', name)),
      number(`limits.${name}.high`, 'high', limitHelp('Upper', name)),
      unit(`limits.${name}.unit`),
    ],
  })),
  {
    label: 'contact',
    fields: [
      {
        ...number('contact.maxOhm', 'at most', 'Greatest resistance of the closed contact; empty: not assessed.'),
        unit: 'ohm',
      },
    ],
  },
  {
    label: 'proof pressure',
    fields: [
      number('proof.value', '', 'What the part stands without damage, at least twice the rated point.'),
      unit('proof.unit'),
    ],
  },
]

const nameRow: FormRow = {
  label: 'name of the file',
  fields: [text('name', '', 'Letters, digits, _ and -: `run --part NAME` finds it again.', 24)],
}

/** Rows of the form; a part that has its file keeps its name. */
export const partRows = (isNew: boolean): readonly FormRow[] => (isNew ? [nameRow, ...baseRows] : baseRows)

const fields = baseRows.flatMap((row) => row.fields)
const units = fields.filter(({ name }) => name.endsWith('.unit') && name !== 'rated.unit')

/** A part that nothing is known of yet. */
export const emptyPart: Json = { kind: 'draft-proving', rated: { unit: 'inH2O', on: 'make' } }

/** What stands in the form for the part `json`; a unit that is not stated is the rated point's. */
export function partValues(json: Json): Values {
  const values = valuesOf(json, fields)
  const own = Object.fromEntries(units.map(({ name }) => [name, values[name] || values['rated.unit'] || 'Pa']))
  return { name: '', ...values, ...own }
}

/** The unit of a row without a number follows the rated point's. */
export function unitsFollow(values: Values): Values {
  const empty = (name: string) => (values[name] ?? '').trim() === ''
  const bare = units.filter(({ name }) => {
    const row = name.replace(/unit$/, '')
    return ['low', 'high', 'value'].every((field) => empty(`${row}${field}`))
  })
  return { ...values, ...Object.fromEntries(bare.map(({ name }) => [name, values['rated.unit'] ?? ''])) }
}

/** The object of the file: `base` with what the form says. A limit with one side has null on the other; with none it is left out. */
export function partJson(base: Json, values: Values): Json {
  const filled = (...names: string[]) => names.some((name) => (values[name] ?? '').trim() !== '')
  const kept = { ...values }
  for (const name of limits) if (!filled(`limits.${name}.low`, `limits.${name}.high`)) kept[`limits.${name}.unit`] = ''
  if (!filled('proof.value')) kept['proof.unit'] = ''
  const json = jsonOf(base, kept, fields)
  const stated = json['limits'] as Record<string, Json> | undefined
  if (!stated) return json
  const whole = Object.entries(stated).map(([name, limit]) => {
    const { low = null, high = null, ...rest } = limit
    return [name, { low, high, ...rest }]
  })
  return { ...json, limits: Object.fromEntries(whole) }
}
