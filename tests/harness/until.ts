// Waits for something to come true; the limit is only there to end a test that hangs.

/** Resolves with the first truthy value of `look`; throws with `what` after `limitMs`. */
export async function until<T>(look: () => T | Promise<T>, what: string, limitMs = 120_000): Promise<NonNullable<T>> {
  const giveUpMs = performance.now() + limitMs
  for (;;) {
    const found = await look()
    if (found) return found
    if (performance.now() > giveUpMs) throw new Error(`waited ${limitMs} ms in vain: ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}
