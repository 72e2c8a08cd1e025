// What a bench shows into the reply to a query, as IEEE 488.2 has it: an NR3 number (8.7.4) ended by LF; 9.9E37 is beyond the range (SCPI-99, volume 1, 7.2.1).
import { answers, closedOhm } from './emulator.ts'

/** NR3: a sign, one digit before the point, a capital E, a sign and two digits of the exponent. */
function nr3(value: number): string {
  const [mantissa, exponent = ''] = Math.abs(value).toExponential(8).split('e')
  return `${value < 0 ? '-' : '+'}${mantissa}E${exponent[0]}${exponent.slice(1).padStart(2, '0')}\n`
}

export const resistanceReplies = answers('READ?', '\n', ({ closed }) => nr3(closed ? closedOhm : 9.9e37))
