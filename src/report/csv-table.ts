// Names and rows into one table for a spreadsheet (RFC 4180), with a decimal point or with a decimal comma.
import type { Decimal } from '../core/model/paper-forms.ts'
import { givenText } from '../core/text/figures-text.ts'

export type Cell = number | string | null

/** Significant digits of a number: more than any instrument here has. */
const figures = 7

/**
 * The table with its heading. An empty cell: not known. `inf`: over range. With a comma as the decimal sign columns are parted by
 * semicolons, as spreadsheets of such countries expect it. Letters beyond ASCII are told by a byte order mark.
 */
export function csvTable(
  names: readonly string[],
  rows: readonly (readonly Cell[])[],
  decimal: Decimal = 'point',
): string {
  const separator = decimal === 'comma' ? ';' : ','
  const lines = [names, ...rows].map((row) => `${row.map((cell) => cellText(cell, decimal)).join(separator)}\r\n`)
  const text = lines.join('')
  // biome-ignore lint/suspicious/noControlCharactersInRegex: all of ASCII is meant
  return /^[\u0000-\u007f]*$/.test(text) ? text : `\ufeff${text}`
}

function cellText(value: Cell, decimal: Decimal): string {
  if (value === null || Number.isNaN(value)) return ''
  if (typeof value === 'string') return quoted(harmless(value))
  if (!Number.isFinite(value)) return value > 0 ? 'inf' : '-inf'
  const text = givenText(value, figures)
  return decimal === 'comma' ? text.replace('.', ',') : text
}

/** A text that a spreadsheet would take for a formula, behind an apostrophe: OWASP, CSV Injection. */
const harmless = (text: string) => (/^\s*[=+\-@|%]|^[\t\r\n]/.test(text) ? `'${text}` : text)

const quoted = (text: string) => (/[",;\r\n\t]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
