// The fields of a set-up file into those that its form has with these values: entries of lists, what waits for what, units, first choices.
import type { Field } from '../../core/model/fields.ts'
import type { Values } from './form-spec.ts'

/** A field with what the form says and knows of it besides: more help, and the cells that it takes. */
export type SetupField = Field & { more?: string; width?: number }

/**
 * Where a form is not simply one row for each field, and one for each object of fields alone. A field is named by the end
 * of its path, so that one line is for the manometer and the board alike.
 */
export type Layout = {
  /** Fields that share a row. */
  together?: readonly (readonly string[])[]
  /** Objects whose fields have a row each. */
  apart?: readonly string[]
  /** What is there only while the field `where` beside it is one of `is`. A field that states something is there all the same. */
  only?: readonly { path: string; where: string; is: readonly string[] }[]
  besides?: Readonly<Record<string, Partial<SetupField>>>
  /** The unit that those of empty rows follow. */
  leadUnit?: string
}

export const isLeaf = ({ kind }: Field): boolean => kind === 'text' || kind === 'number' || kind === 'choice'
export const parentOf = (path: string): string => path.slice(0, Math.max(0, path.lastIndexOf('.')))
export const endsIn = (path: string, end: string): boolean => path === end || path.endsWith(`.${end}`)
const isStated = (values: Values, path: string) => (values[path] ?? '').trim() !== ''

/** The fields with what the layout knows of them besides. */
export const setupFields = (fields: readonly Field[], { besides = {} }: Layout): SetupField[] =>
  fields.map((field) => ({ ...field, ...Object.entries(besides).find(([end]) => endsIn(field.path, end))?.[1] }))

/** The fields that are there with these values, each entry of a list by itself, and one more to be filled in. */
export function shownFields(fields: readonly SetupField[], { only = [] }: Layout, values: Values): SetupField[] {
  const isThere = (path: string) =>
    only
      .filter((rule) => endsIn(path, rule.path))
      .every((rule) => rule.is.includes(values[path.slice(0, path.length - rule.path.length) + rule.where] ?? ''))
  const hidden = fields
    .filter((field) => !isThere(field.path) && !(isLeaf(field) && isStated(values, field.path)))
    .map(({ path }) => path)
  return fields
    .filter(({ path }) => !hidden.some((other) => path === other || path.startsWith(`${other}.`)))
    .flatMap((field) => entriesOf(field, values))
}

function entriesOf(field: SetupField, values: Values): SetupField[] {
  const [list = '', ...rest] = field.path.split('.*')
  if (rest.length === 0) return [field]
  const stated = Object.keys(values).filter((path) => path.startsWith(`${list}.`) && isStated(values, path))
  const count = Math.max(0, ...stated.map((path) => placeIn(list, path) + 1))
  return Array.from({ length: count + 1 }, (_, i) => ({
    ...field,
    path: `${list}.${i}${rest.join('.*')}`,
    label: field.label.replace('#', String(i + 1)),
    called: field.called.replace('#', String(i + 1)),
  }))
}

const placeIn = (list: string, path: string) => Number(path.slice(list.length + 1).split('.')[0])

/** The values without one entry of a list; those behind it move up. */
export function withoutEntry(values: Values, { list, index }: { list: string; index: number }): Values {
  return Object.fromEntries(
    Object.entries(values).flatMap(([path, value]) => {
      const place = path.startsWith(`${list}.`) ? placeIn(list, path) : -1
      if (place === index) return []
      const end = path.slice(`${list}.${place}`.length)
      return [[place > index ? `${list}.${place - 1}${end}` : path, value]]
    }),
  )
}

/** The values with the unit of each row that states nothing following the one that leads. */
export function unitsFollow(fields: readonly SetupField[], { leadUnit }: Layout, values: Values): Values {
  if (leadUnit === undefined) return values
  const choices = new Set(fields.filter(({ kind }) => kind === 'choice').map(({ path }) => path))
  const bare = fields.filter(({ isUnit, path }) => {
    const beside = Object.keys(values).filter((other) => other.startsWith(`${parentOf(path)}.`))
    return isUnit && !endsIn(path, leadUnit) && beside.every((other) => choices.has(other) || !isStated(values, other))
  })
  const leadOf = (path: string) => values[`${path.split('.')[0]}.${leadUnit}`] ?? values[leadUnit] ?? ''
  return { ...values, ...Object.fromEntries(bare.map(({ path }) => [path, leadOf(path)])) }
}

/** What is chosen at first in objects that `json` does not have yet: what the schema gives as an example. */
export function firstChoices(fields: readonly SetupField[], json: Readonly<Record<string, unknown>>): Values {
  const isNew = (path: string) => {
    const keys = path.split('.').filter(Boolean)
    const object = keys.reduce<unknown>((at, key) => (at as Record<string, unknown> | null | undefined)?.[key], json)
    return Object.keys(object ?? {}).length === 0
  }
  const open = fields.filter((field) => field.kind === 'choice' && !field.optional && isNew(parentOf(field.path)))
  return Object.fromEntries(
    open
      .filter(({ path }) => !path.includes('*'))
      .map(({ path, example, choices }) => [path, String(choices.find((c) => c === example) ?? choices[0] ?? '')]),
  )
}
