// The form before each test of a lot: the serial number each time, the surroundings once.
import { fieldsOf } from '../../core/model/fields.ts'
import { lotSchema } from '../../core/model/lot.ts'
import { type Json, jsonOf } from './form-json.ts'
import type { FormRow, Values } from './form-spec.ts'
import { type Layout, setupFields } from './setup-fields.ts'
import { setupRows } from './setup-rows.ts'

const layout: Layout = { besides: { serial: { more: 'Enter starts the test.', width: 40 } } }
const fields = setupFields(fieldsOf(lotSchema), layout)

export const lotRows: readonly FormRow[] = setupRows(fields, layout)

/** What the values state, as `lotSchema` has it. */
export const lotJson = (values: Values): Json => jsonOf({}, values, fields)
