// What a driver read of a transcript, beside what that states, into the first difference.
import type { Reading } from '../core/model/reading.ts'
import type { Decoding } from './run-driver.ts'
import type { Transcript } from './transcript.ts'

/** Relative difference of two numbers that counts as none. Shop rule: some thousand times that of the arithmetic. */
const tolerance = 1e-12

/** As `reading 2: value is 3; the transcript states 4`; null where all agree. A fault's text also has to be `safe`. */
export function transcriptFault(found: Decoding, stated: Transcript, safe: RegExp): string | null {
  for (const list of ['readings', 'faults'] as const)
    if (found[list].length !== stated[list].length)
      return `${found[list].length} ${list} came; the transcript states ${stated[list].length}`
  for (const [index, reading] of stated.readings.entries())
    for (const name of ['quantity', 'value', 'unit', 'digit', 'frameBytes', 'deviceUs'] as const) {
      const [is, be] = [found.readings[index]?.[name], reading[name]]
      if (!agrees(is, be)) return `reading ${index + 1}: ${name} is ${is}; the transcript states ${be}`
    }
  for (const [index, { code, text }] of stated.faults.entries()) {
    const fault = found.faults[index]
    if (fault?.code !== code) return `fault ${index + 1} is ${fault?.code}; the transcript states ${code}`
    if (!fault.text.includes(text) || !safe.test(fault.text))
      return `fault ${index + 1} says ${JSON.stringify(fault.text)}; it must hold ${JSON.stringify(text)} in printable ASCII`
  }
  return null
}

function agrees(found: Reading[keyof Reading] | undefined, stated: Reading[keyof Reading]): boolean {
  if (typeof found === 'number' && typeof stated === 'number' && Number.isFinite(stated) && stated !== 0)
    return Math.abs(found - stated) <= tolerance * Math.abs(stated)
  return Object.is(found, stated)
}
