// What a bench shows into the lines of a data logger: a number of the line, its time, the pressure, with a decimal comma.
// Written from the table of drivers in README.md and what `makebreak driver list csv-line` says.
import { talks } from './emulator.ts'

let lines = 0
export const loggerLines = talks(20, ({ suctionPa, timeUs }) => {
  const shown = (-suctionPa).toFixed(2).replace('.', ',')
  return `${++lines};${(timeUs / 1e6).toFixed(1).replace('.', ',')};${shown}\r\n`
})
