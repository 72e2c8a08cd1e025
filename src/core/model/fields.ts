// The schema of a file into the list of its fields: what each is called, means, is in and may be; for forms, help and messages.
import type { z } from 'zod'
import { describedSchema, type Node } from './json-schema.ts'

export type FieldKind = 'object' | 'list' | 'options' | 'text' | 'number' | 'choice'

export type Field = {
  /** Such as `limits.make.low`; `*` is the place in a list: `calibration.points.*.reading`. */
  path: string
  kind: FieldKind
  /** Its own name; empty where its object's says enough. */
  label: string
  /** Its name in a sentence: the labels of all that it is in, and its own. `#` is the number in a list. */
  called: string
  help: string
  /** Of a number; null where it has none, or has it in the field `unit` beside it. */
  unit: string | null
  /** Of what the number is a share; null where it is none. */
  shareOf: string | null
  usualMost: number | null
  /** The unit of the numbers beside it. */
  isUnit: boolean
  /** What a choice may be. */
  choices: readonly (string | number)[]
  /** The file need not have it; what holds then, where that is stated. */
  optional: boolean
  default: unknown
  /** It may be null. */
  nullable: boolean
  example: unknown
}

const known = new WeakMap<z.ZodType, readonly Field[]>()

/** The fields of the object that `schema` describes, each object and list before what is in it. */
export function fieldsOf(schema: z.ZodType): readonly Field[] {
  // A form asks at each key.
  const fields = known.get(schema) ?? under(describedSchema(schema), '', '', '')
  known.set(schema, fields)
  return fields
}

function under(parent: Node, path: string, called: string, help: string): Field[] {
  return Object.entries(parent.properties ?? {}).flatMap(([key, given]) => {
    const optional = !(parent.required ?? []).includes(key)
    return withInner(
      fieldOf(given, path === '' ? key : `${path}.${key}`, called, help, optional),
      withoutNull(given),
      called,
    )
  })
}

/** `outside`: what the list or object that it is in is called. */
function withInner(field: Field, node: Node, outside: string): Field[] {
  if (field.kind === 'object') return [field, ...under(node, field.path, field.called, field.help)]
  if (field.kind !== 'list' || !node.items) return [field]
  const item = fieldOf(node.items, `${field.path}.*`, outside, field.help, false)
  return [field, ...withInner(item, node.items, outside)]
}

function fieldOf(given: Node, path: string, outside: string, help: string, optional: boolean): Field {
  const node = withoutNull(given)
  const { label = '', unit = null, shareOf = null, usualMost = null, example } = node
  return {
    ...{ path, kind: kindOf(node), label, called: [outside, label].filter(Boolean).join(' ') },
    ...{ help: node.help || help, unit, shareOf, usualMost, isUnit: node.isUnit ?? false },
    ...{ choices: node.enum ?? [], optional, default: node.default, nullable: node !== given, example },
  }
}

/** What a field is where it is not null; the same node where it cannot be null. */
function withoutNull(node: Node): Node {
  if (Array.isArray(node.type) && node.type.includes('null'))
    return { ...node, type: node.type.filter((type) => type !== 'null') }
  const others = node.anyOf?.filter(({ type }) => type !== 'null') ?? []
  return others.length > 0 && others.length < (node.anyOf?.length ?? 0) ? { ...others[0], ...node } : node
}

function kindOf(node: Node): FieldKind {
  if (node.enum) return 'choice'
  if (node.properties) return 'object'
  if (node.items) return 'list'
  const types = [node.type].flat()
  if (types.includes('object')) return 'options'
  return types.includes('number') || types.includes('integer') ? 'number' : 'text'
}

/** The field at a path with the places in lists as numbers, such as `calibration.points.2.reading`. */
export function fieldAt(fields: readonly Field[], path: string): Field | undefined {
  const general = path.replace(/(?<=\.)\d+(?=\.|$)/g, '*')
  return fields.find((field) => field.path === path) ?? fields.find((field) => field.path === general)
}

/** What the field at such a path is called in a sentence; the path itself where there is no such field. */
export function calledAt(fields: readonly Field[], path: string): string {
  const [, place] = /\.(\d+)(?=\.|$)/.exec(path) ?? []
  return fieldAt(fields, path)?.called.replace('#', String(Number(place) + 1)) || path
}

/** An object with the examples of the leaves that `wanted` takes; what is in a list is left out. */
export function exampleOf(fields: readonly Field[], wanted: (field: Field) => boolean): Record<string, unknown> {
  const told = fields.filter((field) => field.example !== undefined && !field.path.includes('*') && wanted(field))
  return told.reduce((object, { path, example }) => placed(object, path.split('.'), example), {})
}

function placed(
  object: Record<string, unknown>,
  [key = '', ...rest]: readonly string[],
  value: unknown,
): object & Record<string, unknown> {
  const inner = (object[key] ?? {}) as Record<string, unknown>
  return { ...object, [key]: rest.length === 0 ? value : placed(inner, rest, value) }
}
