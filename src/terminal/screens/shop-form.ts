// The form of the shop's settings: the fields of their file in rows, and the object that the file holds.
import { fieldsOf } from '../../core/model/fields.ts'
import { shopFileSchema } from '../../core/model/shop.ts'
import { type Json, jsonOf, valuesOf } from './form-json.ts'
import type { FormRow, Values } from './form-spec.ts'
import { type Layout, setupFields } from './setup-fields.ts'
import { setupRows } from './setup-rows.ts'

const layout: Layout = { besides: { name: { width: 40 }, address: { width: 40 }, logo: { width: 40 } } }
const fields = setupFields(fieldsOf(shopFileSchema), layout)

export const shopRows: readonly FormRow[] = setupRows(fields, layout)

/** What the form shows of the settings `json`, which may be empty. */
export const shopValues = (json: Json): Values => valuesOf(json, fields)

/** The object of the file: `base` with what the form says. */
export const shopJson = (base: Json, values: Values): Json => jsonOf(base, values, fields)
