// The words of a line that forbid its use, whatever else it shows: a display that does not follow, a low battery.
import type { Fault } from '../core/model/reading.ts'
import { printable } from '../core/text/printable.ts'
import { faultOf } from './measured.ts'

// What displays print: common practice, no source.
const held = new Set(['HOLD', 'HLD', 'MIN', 'MAX', 'AVG', 'AVE', 'REL', 'PEAK'])
/** `BAT` with a number behind it is the label of that number; with nothing behind it, it is the sign of a low battery. */
const lowBattery = /\b(LOW?[ ._-]*BATT?(ERY)?|L?BATT?(ERY)?[ ._-]*LOW?|LBATT?|BATT?(ERY)?\s*$)\b/i

/** The fault of such a word in `line`; null where it has none. */
export function refusedWord(line: string): Fault | null {
  const shown = printable(line.trim(), 44)
  const word = line
    .toUpperCase()
    .split(/[^A-Z]+/)
    .find((each) => held.has(each))
  if (word !== undefined) return faultOf('held', `the display is on ${word}: "${shown}"`)
  return lowBattery.test(line) ? faultOf('low-battery', `the battery is low: "${shown}"`) : null
}
