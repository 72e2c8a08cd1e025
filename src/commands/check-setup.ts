// The object of a part, a rig or a lot, as a form makes it, into its mistakes, each with the field it is in, its value, unit and limit.
import type { z } from 'zod'
import { type Field, fieldsOf } from '../core/model/fields.ts'
import { partFileSchema } from '../core/model/part.ts'
import { rigFileSchema, rigPorts } from '../core/model/rig.ts'
import { type DriverFacts, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'
import { describeIssue, type NameField, namesAt } from './describe-issue.ts'
import { limitMistake } from './limit-mistake.ts'
import { portMistake } from './port-mistake.ts'

export type SetupMistake = { field: string; text: string }
type Json = Readonly<Record<string, unknown>>

/** What is wrong with `json` by its schema; empty where nothing is. `fields`: the schema's, and those that a form adds. */
export function schemaMistakes(
  json: Json,
  schema: z.ZodType,
  fields: readonly Field[] = fieldsOf(schema),
): SetupMistake[] {
  const { error } = schema.safeParse(json)
  return (error?.issues ?? []).map((issue) => ({
    field: issue.path.join('.'),
    text: `${describeIssue(issue, json, { fields, inFile: false })}.`,
  }))
}

/** What is wrong with `json` as a part file; empty where nothing is. */
export function partMistakes(json: Json): SetupMistake[] {
  const checked = partFileSchema.safeParse(json)
  if (!checked.success) return schemaMistakes(json, partFileSchema)
  const mistake = limitMistake(checked.data, namesAt({ fields: fieldsOf(partFileSchema), inFile: false }))
  return mistake === null ? [] : [{ field: mistake.field, text: `${mistake.text}.` }]
}

/** What is wrong with `json` as a rig file for these drivers; empty where nothing is. `fields`: with those of the drivers' options. */
export function rigMistakes(
  json: Json,
  drivers: ReadonlyMap<string, DriverFacts>,
  fields: readonly Field[] = fieldsOf(rigFileSchema),
): SetupMistake[] {
  const checked = rigFileSchema.safeParse(json)
  if (!checked.success) return schemaMistakes(json, rigFileSchema, fields)
  const called = namesAt({ fields, inFile: false })
  const shared = portMistake(checked.data)
  const ofDevices = rigPorts(checked.data).flatMap(({ name, device }) => {
    const driver = drivers.get(device.driver)
    if (!driver) {
      const there = [...drivers.keys()].sort().join(', ')
      const field = `${name}.driver`
      return [{ field, text: `${called(field)} is ${device.driver}; it must be one of those here: ${there}.` }]
    }
    return Object.entries(device.options ?? {}).flatMap(([option, value]) =>
      optionMistake(driver, option, value, `${name}.options.${option}`, called),
    )
  })
  return shared === null ? ofDevices : [...ofDevices, { field: shared.field, text: `${shared.text}.` }]
}

function optionMistake(
  driver: DriverFacts,
  option: string,
  value: string | number,
  field: string,
  called: NameField,
): SetupMistake[] {
  try {
    resolveOptions(driver, { [option]: value })
    return []
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    // An option that has a field is named as that is; else the driver's own sentence says which it is.
    const text = error.message.replace(`Option "${option}" of the driver "${driver.id}" is`, `${called(field)} is`)
    return [{ field, text }]
  }
}
