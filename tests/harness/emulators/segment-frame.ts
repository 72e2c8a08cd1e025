// What a bench shows into frames of fourteen numbered bytes that mirror the segments of a meter's display.
// The layout is from memory, as tables of such a display chip have it; DEVELOPERS.md has it too.
import { closedOhm, talks } from './emulator.ts'

/** Segments of a character, as the two halves that its two bytes carry. */
const segments: Record<string, number> = {
  ' ': 0x00,
  '0': 0x7d,
  '1': 0x05,
  '2': 0x5b,
  '3': 0x1f,
  '4': 0x27,
  '5': 0x3e,
  '6': 0x7e,
  '7': 0x15,
  '8': 0x7f,
  '9': 0x3f,
  L: 0x68,
}

/** Four characters; `pointBefore`: the place (1 to 3) that the decimal point is before. */
function frame(characters: string, pointBefore: number): Buffer {
  const low = new Array<number>(14).fill(0)
  // AUTO and RS232 are lit.
  low[0] = 0x3
  for (const [place, character] of [...characters].entries()) {
    const lit = segments[character] ?? 0
    low[1 + 2 * place] = (lit >> 4) | (place > 0 && place === pointBefore ? 0x8 : 0)
    low[2 + 2 * place] = lit & 0xf
  }
  // The ohm sign.
  low[11] = 0x4
  return Buffer.from(low.map((nibble, at) => ((at + 1) << 4) | nibble))
}

export const resistanceFrames = talks(40, ({ closed }) =>
  closed ? frame(closedOhm.toFixed(1).replace('.', '').padStart(4, '0'), 3) : frame(' 0L ', 0),
)
