// The form of a part: the fields of its file in rows, and the object that the file holds.
import { fieldsOf } from '../../core/model/fields.ts'
import { partFileSchema } from '../../core/model/part.ts'
import { type Json, jsonOf, valuesOf } from './form-json.ts'
import type { FormRow, Values } from './form-spec.ts'
import { firstChoices, type Layout, setupFields, shownFields, unitsFollow } from './setup-fields.ts'
import { nameRow, setupRows } from './setup-rows.ts'

const layout: Layout = {
  together: [
    ['model', 'serial'],
    ['lot', 'condition'],
  ],
  besides: { model: { width: 24 } },
  leadUnit: 'rated.unit',
}
const fields = setupFields(fieldsOf(partFileSchema), layout)

/** Rows of the form; a part that has its file keeps its name. */
export const partRows = (isNew: boolean): readonly FormRow[] => [
  ...(isNew ? [nameRow('part')] : []),
  ...setupRows(shownFields(fields, layout, {}), layout),
]

/** What the form shows of the part `json`, which may be empty; a unit that is not stated is the rated point's. */
export const partValues = (json: Json): Values =>
  partFollow({ ...valuesOf(json, fields), ...firstChoices(fields, json) })

export const partFollow = (values: Values): Values => unitsFollow(fields, layout, values)

/** The object of the file: `base` with what the form says. */
export const partJson = (base: Json, values: Values): Json => jsonOf(base, values, shownFields(fields, layout, values))
