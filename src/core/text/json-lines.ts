// A value into JSON as a person writes it: an object that fits is one line, another one has a line for each field.

/** The lines of `value`; none is longer than `width` where that is possible. The outermost is always opened. */
export function jsonLines(value: object, width: number): string[] {
  const entries = Object.entries(value).map(([key, inner]) => {
    const name = Array.isArray(value) ? '' : `${JSON.stringify(key)}: `
    const short = `  ${name}${inOneLine(inner)}`
    if (short.length < width || typeof inner !== 'object' || inner === null) return [short]
    const [first = '', ...rest] = jsonLines(inner, width - 2)
    return [`  ${name}${first}`, ...rest.map((line) => `  ${line}`)]
  })
  const lines = entries.flatMap((entry, i) =>
    i === entries.length - 1 ? entry : [...entry.slice(0, -1), `${entry.at(-1)},`],
  )
  return Array.isArray(value) ? ['[', ...lines, ']'] : ['{', ...lines, '}']
}

function inOneLine(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  if (Array.isArray(value)) return `[${value.map(inOneLine).join(', ')}]`
  const fields = Object.entries(value).map(([key, inner]) => `${JSON.stringify(key)}: ${inOneLine(inner)}`)
  return fields.length === 0 ? '{}' : `{ ${fields.join(', ')} }`
}
