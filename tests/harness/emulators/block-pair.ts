// What a bench shows into the blocks of a meter that sends each conversion twice: sign, number, unit.
// Written from the table of drivers in README.md and what `makebreak driver list block-pair` says; that a block ends in CR LF and its twin is the same is from memory.
import { closedOhm, talks } from './emulator.ts'

export const resistancePairs = talks(50, ({ closed }) => {
  const block = closed ? `+${closedOhm.toFixed(2).padStart(6, '0')} Ohm\r\n` : '+OL Ohm\r\n'
  return block + block
})
