// What a bench shows into fixed frames of sixteen characters with unit code, polarity and decimal-point digit.
// The layout is from memory, as makers' manuals have it; DEVELOPERS.md has it too.
import { talks } from './emulator.ts'

/** STX, 4, the display, two digits of the unit code, polarity (0 plus, 1 minus), decimals, eight digits, CR. */
function frame(unitCode: string, value: number, decimals: number): string {
  const digits = Math.round(Math.abs(value) * 10 ** decimals)
  return `\x0241${unitCode}${value < 0 ? 1 : 0}${decimals}${String(digits).padStart(8, '0')}\r`
}

/** In mbar, with the code that the rig's `units` gives it. */
export const pressureFrames = talks(20, ({ suctionPa }) => frame('78', -suctionPa / 100, 4))
