// The parts of a report's number into its text, and what was typed or scanned back into them.

/** `prefix`: the first digits of the fingerprint of the bench's key, which tell benches apart; `count` from 1, in each year. */
export type ReportNumber = { prefix: string; year: number; count: number }

const prefixDigits = 4

export const prefixOf = (fingerprint: string): string => fingerprint.slice(0, prefixDigits).toUpperCase()

/** Such as `3F9C 2027 0042`: capitals, digits and spaces, which every scanner types on every keyboard alike. */
export function numberText({ prefix, year, count }: ReportNumber): string {
  return `${prefix} ${year} ${String(count).padStart(4, '0')}`
}

/** Small letters, and points or dashes in place of the spaces, are read too; null for anything else. */
export function parseNumber(text: string): ReportNumber | null {
  const found = /^([0-9A-F]{4})[ .-]*(\d{4})[ .-]*(\d{4,9})$/.exec(text.trim().toUpperCase())
  if (found === null) return null
  const [, prefix = '', year, count] = found
  return Number(count) > 0 ? { prefix, year: Number(year), count: Number(count) } : null
}
