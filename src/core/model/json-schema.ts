// The schema of a file into JSON Schema, draft 2020-12: what editors and other programs check it by.
import { z } from 'zod'
import type { About } from './schema.ts'

/** A node of a JSON Schema, as far as one is read here; `About` is what our own schemas say of the field. */
export type Node = Partial<About> & {
  type?: string | readonly string[]
  properties?: Record<string, Node>
  required?: readonly string[]
  items?: Node
  enum?: readonly (string | number)[]
  anyOf?: readonly Node[]
  default?: unknown
}

/** The schema as the program has it, with what is said of each field under our own names. */
export const describedSchema = (schema: z.ZodType): Node => z.toJSONSchema(schema, { io: 'input' }) as Node

/** The same in the words of the standard alone: what is said of a field as its title, description and examples. */
export function standardSchema(schema: z.ZodType, title: string): object {
  return { ...z.toJSONSchema(schema, { io: 'input', override: ({ jsonSchema }) => restate(jsonSchema) }), title }
}

function restate(node: Partial<About> & { title?: string; description?: string; examples?: unknown[] }): void {
  const { label, help, unit, example, shareOf } = node
  if (label) node.title = label.replace(' #', '')
  const inUnit = shareOf ? `A share of ${shareOf}: 0.005 is 0.5 %.` : unit ? `In ${unit}.` : ''
  if (help || inUnit) node.description = [help, inUnit].filter(Boolean).join(' ')
  if (example !== undefined) node.examples = [example]
  for (const name of ['label', 'help', 'unit', 'example', 'shareOf', 'usualMost', 'isUnit'] as const) delete node[name]
}
