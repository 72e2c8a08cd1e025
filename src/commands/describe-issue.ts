// What a schema says against a file or a form into a sentence: the field as the form calls it, its value and unit, what is allowed, and an example.
import type { z } from 'zod'
import { calledAt, type Field, fieldAt } from '../core/model/fields.ts'
import { percentText, shareOfPercent } from '../core/text/percent-text.ts'

type Issue = z.core.$ZodIssue

/** What a field is called in a sentence, by its path. */
export type NameField = (path: string) => string

/** Whose fields they are, and where a person corrects them: in a file, by its keys, or in a form. */
export type Place = { fields: readonly Field[]; inFile: boolean }

/** Names a field by the words of the form; in a file with its path behind them, by which it is found there. */
export function namesAt({ fields, inFile }: Place): NameField {
  return (path) => {
    const called = calledAt(fields, path)
    return inFile && called !== path ? `${called} (${path})` : called
  }
}

/** `rated point (rated.value) is -1 inH2O; it must be more than 0 inH2O`. `json` is what was checked: the value is looked up in it. */
export function describeIssue(issue: Issue, json: unknown, place: Place): string {
  const path = issue.path.join('.')
  const name = path === '' ? 'the file' : namesAt(place)(path)
  if (issue.code === 'custom') return path === '' ? issue.message : `${name}: ${issue.message}`
  if (issue.code === 'unrecognized_keys') {
    const names = issue.keys.map((key) => `"${path === '' ? key : `${path}.${key}`}"`)
    return `${names.join(', ')} ${names.length === 1 ? 'is not a known field' : 'are not known fields'}`
  }
  const value = valueAt(json, issue.path)
  const field = fieldAt(place.fields, path)
  const count = countOf(issue, value)
  if (count !== null) return `${name}${count}`
  const wanted = `it must be ${allowed(issue, quantity(field, issue.path, json), place.inFile)}`
  if (value === undefined) return `${name} is missing; ${wanted}${exampleOf(issue, field, place)}`
  if (isNumber(issue) && pointOf(value) !== '') return `${name} is ${show(value)}; ${wanted}${pointOf(value)}`
  const said = typeof value === 'number' ? quantity(field, issue.path, json)(value) : show(value)
  return `${name} is ${said}; ${wanted}${exampleOf(issue, field, place)}${percentMeant(issue, field, value)}`
}

const valueAt = (json: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown> | null | undefined)?.[key], json)

/** Writes a number of this field: with its own unit, with the one stated beside it, or as a share with its percentage. */
function quantity(field: Field | undefined, path: readonly PropertyKey[], json: unknown): (value: number) => string {
  if (field?.shareOf) return (value) => `${value} (${percentText(value)})`
  const stated = path.map((_, i) => valueAt(json, [...path.slice(0, path.length - 1 - i), 'unit']))
  const unit = field?.unit ?? (field?.kind === 'number' ? stated.find((text) => typeof text === 'string') : undefined)
  return (value) => (unit === undefined ? String(value) : `${value} ${unit}`)
}

const isNumber = (issue: Issue) => issue.code === 'invalid_type' && /^(number|int)$/.test(issue.expected)

/** How a number with a comma is written here, where the file has one. */
function pointOf(value: unknown): string {
  const comma = typeof value === 'string' ? /^\s*([+-]?\d*),(\d+)\s*$/.exec(value) : null
  return comma ? ` with a point: ${comma[1]}.${comma[2]}` : ''
}

/** What to write instead, where the kind of value is wrong and not its size. */
function exampleOf(issue: Issue, field: Field | undefined, { inFile }: Place): string {
  const example = field?.example
  if (
    example === undefined ||
    example === null ||
    !['invalid_type', 'invalid_format', 'invalid_union'].includes(issue.code)
  )
    return ''
  if (inFile) return `, such as ${JSON.stringify(example)}`
  return `, such as ${field?.shareOf && typeof example === 'number' ? percentText(example) : example}`
}

/** A share above 1 was most often meant in percent. */
function percentMeant(issue: Issue, field: Field | undefined, value: unknown): string {
  if (!field?.shareOf || issue.code !== 'too_big' || typeof value !== 'number' || value > 100) return ''
  return `; ${value} % is ${shareOfPercent(`${value} %`)}`
}

/** How many there are of what is too long or too short, and how many there may be, to go behind its name; null where that is not the matter. */
function countOf(issue: Issue, value: unknown): string | null {
  if (issue.code !== 'too_big' && issue.code !== 'too_small') return null
  const number = Array.isArray(value) || typeof value === 'string' ? value.length : 0
  if (issue.origin === 'string' && issue.code === 'too_big')
    return ` has ${number} characters; it may have ${issue.maximum}`
  if (issue.origin !== 'array') return null
  const allowed = issue.code === 'too_big' ? `at most ${issue.maximum}` : `at least ${issue.minimum}`
  return `: there ${number === 1 ? 'is' : 'are'} ${number}, and there must be ${allowed}`
}

function show(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value)
  return text.length > 60 ? `${text.slice(0, 57)}...` : text
}

const kinds: Record<string, { named: string; written: string }> = {
  number: { named: 'a number', written: ' (no quotes around it)' },
  int: { named: 'a whole number', written: ' (no quotes around it)' },
  string: { named: 'a text', written: ' in double quotes' },
  object: { named: 'an object', written: ' { ... }' },
  record: { named: 'an object', written: ' { ... }' },
  array: { named: 'a list', written: ' [ ... ]' },
}

/** `say` writes a number with its unit; how JSON writes a kind of value is told for a file only. */
function allowed(issue: Issue, say: (value: number) => string, inFile: boolean): string {
  switch (issue.code) {
    case 'invalid_type': {
      const { named, written } = kinds[issue.expected] ?? { named: issue.expected, written: '' }
      return inFile ? named + written : named
    }
    case 'invalid_value':
      return listed(issue.values.map((value) => (inFile ? JSON.stringify(value) : String(value))))
    case 'too_small':
      if (issue.origin === 'string') return 'a text that is not empty'
      return `${issue.inclusive ? 'at least' : 'more than'} ${say(Number(issue.minimum))}`
    case 'too_big':
      return `${issue.inclusive ? 'at most' : 'less than'} ${say(Number(issue.maximum))}`
    case 'invalid_format':
      return /^date/.test(issue.format) ? 'a date' : `of the form ${issue.format}`
    case 'invalid_union':
      return listed([...new Set(issue.errors.flatMap(([first]) => (first ? [allowed(first, say, inFile)] : [])))])
    default:
      return issue.message
  }
}

const listed = (texts: readonly string[]) =>
  texts.length < 2 ? texts.join('') : `${texts.slice(0, -1).join(', ')} or ${texts.at(-1)}`
