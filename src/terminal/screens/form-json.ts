// The values of a form into the object of a set-up file and back; what the form has no field for stays as it was.
import type { Field, Values } from './form-spec.ts'

export type Json = Readonly<Record<string, unknown>>

const numberText = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

/** What stands at the fields' paths of `json`, as text; empty where nothing does. */
export function valuesOf(json: Json, fields: readonly Field[]): Values {
  return Object.fromEntries(
    fields.map(({ name }) => {
      const value = name.split('.').reduce<unknown>((at, key) => (at as Json | null | undefined)?.[key], json)
      return [name, value === undefined || value === null ? '' : String(value)]
    }),
  )
}

/**
 * `base` with the values of `fields` in it: numbers as numbers, what is no number as it was typed, so that a check can
 * name it. An empty field is left out, and an object that has nothing left with it.
 */
export function jsonOf(base: Json, values: Values, fields: readonly Field[]): Json {
  return fields.reduce<Json>((json, field) => put(json, field.name.split('.'), statedIn(field, values)), base)
}

function statedIn({ name, kind, numeric }: Field, values: Values): unknown {
  const text = (values[name] ?? '').trim()
  if (text === '') return undefined
  return (kind === 'number' || numeric) && numberText.test(text) ? Number(text) : text
}

function put(json: Json, [key = '', ...rest]: readonly string[], value: unknown): Json {
  const { [key]: old, ...others } = json
  const inner = rest.length === 0 ? value : put((old ?? {}) as Json, rest, value)
  const empty = inner === undefined || (rest.length > 0 && Object.keys(inner as Json).length === 0)
  if (empty) return others
  // A key that is there keeps its place: a file that is edited stays in its owner's order.
  return { ...json, [key]: inner }
}
