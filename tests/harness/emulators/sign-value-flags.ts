// What a bench shows into the reply to a short command: sign, value, unit, flags.
// Written from the table of drivers in README.md and what `makebreak driver list sign-value-flags` says; that spaces part them is from memory.
import { answers } from './emulator.ts'

export const pressureReplies = answers('D', '\r', ({ suctionPa }) => {
  const sign = suctionPa > 0 ? '-' : '+'
  return `${sign}${Math.abs(suctionPa).toFixed(2).padStart(7, '0')} Pa A\r`
})
