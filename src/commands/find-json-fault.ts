// Text that should be JSON into the place and the kind of its first fault, for people who write such files by hand.

export type JsonFault = { line: number; column: number; what: string }

const maxDepth = 50
const token =
  /"(?:[^"\\\n\r\t]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y

class Found extends Error {
  readonly at: number
  constructor(at: number, what: string) {
    super(what)
    this.at = at
  }
}

/**
 * First fault of `text`, line and column counted from 1; null where it is sound. Stricter than a JSON parser in one
 * thing: a field that is there twice in one object is a fault, because one of the two would silently be lost.
 */
export function findJsonFault(text: string): JsonFault | null {
  try {
    const end = skipValue(text, skipSpace(text, 0), 0)
    if (end < text.length) throw new Found(end, `${show(text, end)} after the end of the file's one value`)
    return null
  } catch (error) {
    if (!(error instanceof Found)) throw error
    const before = text.slice(0, error.at).split(/\r\n|\r|\n/)
    return { line: before.length, column: (before.at(-1)?.length ?? 0) + 1, what: error.message }
  }
}

function show(text: string, at: number): string {
  const char = text.codePointAt(at)
  return char === undefined ? 'the file ends' : `found ${String.fromCodePoint(char)}`
}

function skipSpace(text: string, at: number): number {
  let i = at
  while (i < text.length && ' \t\n\r'.includes(text.charAt(i))) i++
  return i
}

/** Index of the next thing after the value at `at`, white space skipped. */
function skipValue(text: string, at: number, depth: number): number {
  if (depth > maxDepth) throw new Found(at, `more than ${maxDepth} levels of brackets`)
  const open = text.charAt(at)
  if (open === '{' || open === '[') return skipMembers(text, at, open === '{', depth)
  token.lastIndex = at
  const found = token.exec(text)?.[0]
  if (found) return skipSpace(text, at + found.length)
  if (open === '"') throw new Found(at, 'this text has no closing quote on its line, or a \\ that means nothing')
  throw new Found(at, `a value is missing: ${show(text, at)}`)
}

function skipMembers(text: string, at: number, named: boolean, depth: number): number {
  const close = named ? '}' : ']'
  const names = new Set<string>()
  let i = skipSpace(text, at + 1)
  if (text.charAt(i) === close) return skipSpace(text, i + 1)
  for (;;) {
    if (named) i = skipName(text, i, names)
    i = skipValue(text, i, depth + 1)
    if (text.charAt(i) === close) return skipSpace(text, i + 1)
    if (text.charAt(i) !== ',') throw new Found(i, `a comma or ${close} is missing: ${show(text, i)}`)
    const comma = i
    i = skipSpace(text, i + 1)
    if (text.charAt(i) === close) throw new Found(comma, `a comma before ${close} is one too many`)
  }
}

function skipName(text: string, at: number, names: Set<string>): number {
  if (text.charAt(at) !== '"') throw new Found(at, `a field name in double quotes is missing: ${show(text, at)}`)
  const afterName = skipValue(text, at, 0)
  const name = text.slice(at, afterName).trim()
  if (names.has(name)) throw new Found(at, `the field ${name} is there twice in one object`)
  names.add(name)
  if (text.charAt(afterName) !== ':')
    throw new Found(afterName, `a colon is missing after ${name}: ${show(text, afterName)}`)
  return skipSpace(text, afterName + 1)
}
