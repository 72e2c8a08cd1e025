// A seed into a repeatable stream of chance: the same seed gives the same bench to the last byte, on every machine.

export type Random = {
  /** Uniform in [0, 1). */
  uniform(): number
  /** Uniform in [low, high). */
  between(low: number, high: number): number
  /** Normal with mean 0 and standard deviation `sd`; `sd` 0 gives 0. */
  normal(sd: number): number
  /** Exponential with the given mean. */
  exponential(mean: number): number
  /** One of a list that is not empty. */
  pick<T>(list: readonly T[]): T
  /** An independent stream for one part of the bench, so that a change in one part leaves the chance of the others alone. */
  fork(name: string): Random
}

/** A stream of chance from a whole number; generator sfc32 (a public-domain design by C. Doty-Humphrey; constants from memory). */
export function createRandom(seed: number): Random {
  // splitmix32 (public domain, constants from memory) spreads a small seed over the whole state.
  let mixing = seed >>> 0
  const mix = () => {
    mixing = (mixing + 0x9e3779b9) >>> 0
    let z = mixing
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b)
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35)
    return (z ^ (z >>> 16)) >>> 0
  }
  let a = mix()
  let b = mix()
  let c = mix()
  let counter = 1
  const own = seed >>> 0

  function uniform(): number {
    const sum = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (c << 21) | (c >>> 11)
    c = (c + sum) | 0
    return (sum >>> 0) / 2 ** 32
  }
  for (let i = 0; i < 12; i++) uniform()

  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    // Box and Muller's transform; 1 − u keeps the logarithm away from 0.
    normal: (sd) => (sd === 0 ? 0 : sd * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())),
    exponential: (mean) => -mean * Math.log(1 - uniform()),
    pick: (list) => list[Math.floor(uniform() * list.length)]!,
    fork: (name) => createRandom(own ^ hashName(name)),
  }
}

// FNV-1a, 32 bit (offset basis and prime from memory): any spread would do.
function hashName(name: string): number {
  let hash = 0x811c9dc5
  for (const char of name) hash = Math.imul(hash ^ char.charCodeAt(0), 0x01000193)
  return hash >>> 0
}
