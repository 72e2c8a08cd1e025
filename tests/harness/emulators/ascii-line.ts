// What a bench shows into free-running lines: sign, number, unit; OL where a resistance is beyond the range.
// Written from the table of drivers in README.md and what `makebreak driver list ascii-line` says.
import { closedOhm, talks } from './emulator.ts'

export const pressureLines = talks(20, ({ suctionPa }) => `${(-suctionPa).toFixed(2)} Pa\r\n`)
export const resistanceLines = talks(20, ({ closed }) => (closed ? `${closedOhm.toFixed(2)} ohm\r\n` : 'OL ohm\r\n'))
