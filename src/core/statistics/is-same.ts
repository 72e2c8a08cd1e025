// Two values of plain data into whether they are the same.

/** Whether the same numbers, texts and lists of them are in the same places; functions are the same where they are one. */
export function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  const [left, right] = [Object.values(a), Object.values(b)]
  return left.length === right.length && left.every((value, i) => isSame(value, right[i]))
}
