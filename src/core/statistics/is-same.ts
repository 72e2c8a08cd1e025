// Two values of plain data into whether they are the same.

/** Whether the same numbers, texts and lists of them are in the same places; functions are the same where they are one. */
export function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  // Whole sessions of readings are held against each other: no list is made of what each holds.
  const [left, right] = [a as Record<string, unknown>, b as Record<string, unknown>]
  if (Array.isArray(a) && Array.isArray(b)) {
    if (a.length !== b.length) return false
    for (let i = 0; i < a.length; i++) if (!isSame(a[i], b[i])) return false
    return true
  }
  let count = 0
  for (const name in left) {
    if (!isSame(left[name], right[name])) return false
    count++
  }
  for (const _ in right) count--
  return count === 0
}
