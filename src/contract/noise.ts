// A seed into bytes that look a little like those of an instrument, and into places to cut them: the same each time.

export type Dice = (limit: number) => number

/** Pseudo-random whole numbers below `limit` from a fixed seed: a linear congruential generator modulo 2^32. */
export function createDice(seed: number): Dice {
  let state = seed
  return (limit) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.floor((state / 2 ** 32) * limit)
  }
}

const alphabets = ['\x00\x7f\x80\xff\r\n\x1b[0;', '-+.,0123456789eE OLinH2kPa\r\n', '"\'\xce\xa9:=/%.\n OLREin2']
/** Those, and all bytes. */
export const noiseKinds = alphabets.length + 1

/** Twenty pieces of up to 59 bytes each, of one of the alphabets or of all bytes; `trial` chooses which. */
export function noise(dice: Dice, trial: number): string[] {
  const alphabet = alphabets[trial % noiseKinds]
  const byte = () =>
    String.fromCharCode(alphabet === undefined ? dice(256) : alphabet.charCodeAt(dice(alphabet.length)))
  return Array.from({ length: 20 }, () => Array.from({ length: dice(60) }, byte).join(''))
}

/** `bytes` in pieces of up to 11 bytes, some of them empty. */
export function cutAtRandom(bytes: string, dice: Dice): string[] {
  const pieces: string[] = []
  for (let at = 0; at < bytes.length; ) {
    const length = dice(12)
    pieces.push(bytes.slice(at, at + length))
    at += length
  }
  return pieces
}
