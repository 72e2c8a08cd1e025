// What a schema says against a file into a sentence with the field, its value and what is allowed.
import type { z } from 'zod'

type Issue = z.core.$ZodIssue

/** What a field is called in a sentence, by its path; left out: the path itself. */
export type NameField = (path: string) => string

/** `rated.value is -1; it must be more than 0`. `json` is what was checked: the value is looked up in it. */
export function describeIssue(issue: Issue, json: unknown, called: NameField = (path) => path): string {
  const path = issue.path.join('.')
  const field = path === '' ? '' : called(path)
  const value = issue.path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown> | null)?.[key], json)
  const whole = field === '' ? 'the file' : field
  if (issue.code === 'custom') return field === '' ? issue.message : `${field}: ${issue.message}`
  if (issue.code === 'unrecognized_keys') {
    const names = issue.keys.map((key) => `"${path === '' ? key : `${path}.${key}`}"`)
    return `${names.join(', ')} ${names.length === 1 ? 'is no field' : 'are no fields'} known here`
  }
  if (value === undefined) return `${whole} is missing; it must be ${allowed(issue)}`
  return `${whole} is ${show(value)}; it must be ${allowed(issue)}${isNumber(issue) ? pointOf(value) : ''}`
}

const isNumber = (issue: Issue) => issue.code === 'invalid_type' && /^(number|int)$/.test(issue.expected)

/** A number with a comma is no number here; how it is written, where that is what stands there. */
export function pointOf(value: unknown): string {
  const comma = typeof value === 'string' ? /^\s*([+-]?\d*),(\d+)\s*$/.exec(value) : null
  return comma ? ` with a point: ${comma[1]}.${comma[2]}` : ''
}

function show(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value)
  return text.length > 60 ? `${text.slice(0, 57)}...` : text
}

const kinds: Record<string, string> = {
  number: 'a number (no quotes around it)',
  int: 'a whole number (no quotes around it)',
  string: 'a text in double quotes',
  object: 'an object { ... }',
  record: 'an object { ... }',
  array: 'a list [ ... ]',
  boolean: 'true or false',
}

function allowed(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return kinds[issue.expected] ?? issue.expected
    case 'invalid_value':
      return issue.values.map((value) => JSON.stringify(value)).join(' or ')
    case 'too_small':
      return issue.origin === 'string'
        ? 'a text that is not empty'
        : `${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`
    case 'too_big':
      return `${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}`
    case 'invalid_format':
      return issue.format === 'date' ? 'a date such as "2027-03-31"' : `of the form ${issue.format}`
    case 'invalid_union':
      return unionOf(issue)
    default:
      return issue.message
  }
}

function unionOf(issue: Extract<Issue, { code: 'invalid_union' }>): string {
  const each = issue.errors.map((branch) => (branch[0] ? allowed(branch[0]) : ''))
  return [...new Set(each)].filter((text) => text !== '').join(' or ') || issue.message
}
