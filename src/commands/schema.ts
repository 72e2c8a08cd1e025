// The JSON Schema of the part file or of the rig file, printed.
import { standardSchema } from '../core/model/json-schema.ts'
import { partFileSchema } from '../core/model/part.ts'
import { rigFileSchema } from '../core/model/rig.ts'
import { print } from './print.ts'

const schemas = { part: partFileSchema, rig: rigFileSchema }

/** Exit status 0. */
export function printSchema(kind: keyof typeof schemas): number {
  const text = JSON.stringify(standardSchema(schemas[kind], `A ${kind} file of makebreak`), null, 2)
  for (const line of text.split('\n')) print(line)
  return 0
}
