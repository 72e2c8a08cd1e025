// A driver and pieces of bytes into all that it makes of them, each of its results looked at.
import { serialize } from 'node:v8'
import { decodedFault } from '../core/intake/decoded-fault.ts'
import type { Decoded, Fault, Reading } from '../core/model/reading.ts'
import { errorText } from '../core/text/error-text.ts'
import { printable } from '../core/text/printable.ts'
import { type Context, type Driver, type Options, type Role, resolveOptions, sentFault } from '../driver.ts'
import type { Chunk } from './chunks.ts'

export type Decoding = { readings: Reading[]; faults: Fault[]; memory: unknown }

/** What `driver` makes of the chunks; what was sent is left out where it does not hear that. Called itself, not through a guard: where it throws or gives nonsense, an Error says so as a clause. */
export function runDriver(
  driver: Driver,
  { role, options: given = {} }: { role: Role; options?: Options | undefined },
  chunks: Iterable<Chunk>,
): Decoding {
  const options = resolveOptions(driver, given)
  const result: Decoding = { readings: [], faults: [], memory: null }
  for (const { way, bytes } of chunks) {
    if (way === 'sent' && driver.hearsSent !== true) continue
    const { readings, faults, memory } = decodeOnce(driver, result.memory, bytes, { options, role, way })
    result.readings.push(...readings)
    result.faults.push(...faults)
    result.memory = memory
  }
  return result
}

/** One call of decode. */
export function decodeOnce(driver: Driver, memory: unknown, bytes: string, context: Context): Decoded<unknown> {
  const on = `on the bytes "${printable(bytes, 40)}" ${context.way} as ${context.role}`
  let decoded: Decoded<unknown>
  try {
    decoded = driver.decode(memory, bytes, context)
  } catch (error) {
    throw new Error(`decode threw ${errorText(error)} ${on}`)
  }
  const wrong = decodedFault(decoded) ?? sentFault(decoded, context.way)
  if (wrong !== null) throw new Error(`decode gave no result ${on}: ${wrong}`)
  return decoded
}

/** Bytes that a memory takes as data. */
export function sizeOf(memory: unknown): number {
  return dataOf(memory).length
}

/** A memory as bytes; two that hold the same give the same. */
export function dataOf(memory: unknown): Buffer {
  try {
    return serialize(memory)
  } catch (error) {
    throw new Error(`its memory is not plain data (${errorText(error)})`)
  }
}
