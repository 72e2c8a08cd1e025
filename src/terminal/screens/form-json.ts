// The object of a set-up file into the values of a form and back; what nobody changed comes back as it was.
import type { Field } from '../../core/model/fields.ts'
import { percentText, shareOfPercent } from '../../core/text/percent-text.ts'
import type { Values } from './form-spec.ts'
import { isLeaf, parentOf } from './setup-fields.ts'

export type Json = Readonly<Record<string, unknown>>

const numberText = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i
const keyOf = (path: string) => path.slice(path.lastIndexOf('.') + 1)

/** What is at a path of `json`. */
export const valueAt = (json: Json, path: string): unknown =>
  path.split('.').reduce<unknown>((at, key) => (at as Json | null | undefined)?.[key], json)

/** What the fields show of `json`: a share as a percentage, empty where nothing is stated. */
export function valuesOf(json: Json, fields: readonly Field[]): Values {
  const leaves = fields.filter(isLeaf).flatMap((field) => placesOf(field.path, json).map((path) => ({ field, path })))
  return Object.fromEntries(leaves.map(({ field, path }) => [path, textOf(field, valueAt(json, path))]))
}

/** The path with the numbers of the entries that a list has in place of its `*`. */
function placesOf(path: string, json: Json): string[] {
  const [list = '', ...rest] = path.split('.*')
  if (rest.length === 0) return [path]
  const entries = valueAt(json, list)
  return Array.from({ length: Array.isArray(entries) ? entries.length : 0 }, (_, i) =>
    placesOf(`${list}.${i}${rest.join('.*')}`, json),
  ).flat()
}

function textOf({ shareOf }: Field, value: unknown): string {
  if (value === undefined || value === null) return ''
  if (shareOf !== null && typeof value === 'number') return percentText(value)
  return typeof value === 'object' ? JSON.stringify(value) : String(value)
}

/** A number as a number, what is none as it was typed, so that a check can name it; undefined where nothing is stated. */
function statedIn({ kind, choices, shareOf }: Field, text: string): unknown {
  if (text === '') return undefined
  if (kind === 'choice') return choices.find((choice) => String(choice) === text) ?? text
  if (kind === 'text') return text
  return (shareOf === null ? null : shareOfPercent(text)) ?? (numberText.test(text) ? Number(text) : text)
}

/** What a field or an object comes to: its value, whether it states anything, whether it is as it was. */
type Stated = { value: unknown; states: boolean; same: boolean }

/**
 * `base` with the values of `fields` in it, which are those that the form shows. An empty field is left out, or null where
 * the file must have it; an object that need not be there and states nothing is left out. A unit alone states nothing,
 * nor does a choice beside typed fields that must be there.
 */
export function jsonOf(base: Json, values: Values, fields: readonly Field[]): Json {
  const children = Map.groupBy(fields, ({ path }) => parentOf(path))

  const insideOf = (path: string, old: unknown): Stated & { value: Json } => {
    const own = children.get(path) ?? []
    const needsTyped = own.some(({ optional, kind }) => !optional && kind !== 'choice')
    const before = (old ?? {}) as Json
    const inside: Stated & { value: Json } = { value: before, states: false, same: true }
    for (const field of own) {
      const key = keyOf(field.path)
      const next = (isLeaf(field) ? leafOf : field.kind === 'list' ? listOf : objectOf)(field, before[key])
      inside.same &&= next.same
      inside.states ||= next.states && (field.kind !== 'choice' || !(needsTyped || field.isUnit))
      if (next.value !== before[key]) inside.value = put(inside.value, key, next.value)
    }
    return inside
  }

  const leafOf = (field: Field, old: unknown): Stated => {
    const text = values[field.path] ?? ''
    const empty = field.nullable && !field.optional ? null : undefined
    if (text === textOf(field, old))
      return { value: old ?? (old === null ? null : empty), states: text !== '', same: true }
    const value = statedIn(field, text.trim())
    return { value: value ?? empty, states: value !== undefined, same: false }
  }

  const objectOf = ({ path, optional }: Field, old: unknown): Stated => {
    const isThere = old !== undefined && old !== null
    const { value, states, same } = insideOf(path, old)
    if (isThere && same) return { value: old, states: true, same }
    if (states || !optional) return { value, states, same: false }
    return isThere ? { value: undefined, states, same: false } : { value: old, states, same: true }
  }

  const listOf = ({ path }: Field, old: unknown): Stated => {
    const before = Array.isArray(old) ? old : []
    const entries = (children.get(path) ?? []).map((entry, i) => insideOf(entry.path, before[i]))
    // The row behind the last entry waits for another one.
    const kept = entries.slice(0, entries.findLastIndex(({ states }) => states) + 1)
    const same = Array.isArray(old) && kept.length === before.length && kept.every((entry) => entry.same)
    return { value: same ? old : kept.map(({ value }) => value), states: kept.length > 0, same }
  }

  return insideOf('', base).value
}

/** A key that is there keeps its place: a file that is edited stays in its owner's order. */
function put(json: Json, key: string, value: unknown): Json {
  if (value !== undefined) return { ...json, [key]: value }
  const { [key]: _, ...others } = json
  return others
}
