// What a transcript states: bytes of an instrument, and the readings and faults that its driver makes of them.
import { z } from 'zod'
import type { Fault, Reading } from '../core/model/reading.ts'
import type { Options, Role } from '../driver.ts'

/** A part of a conversation: latin1 text as received, or one whole command as sent. */
export type Said = string | { sent: string }

/**
 * One conversation. `bytes` is latin1 text as received, all of it, so it begins with whatever was under way when the
 * port opened; where what was sent counts, the two in turn. Numbers of `readings` hold to 1e-12 relative. A fault's text is checked for the words given here.
 */
export type Transcript = {
  name: string
  role: Role
  options?: Options | undefined
  bytes: string | readonly Said[]
  readings: readonly Reading[]
  faults: readonly Fault[]
}

/** Over-range and "no number" have no JSON number, so they are written as these texts. */
const wordSchema = z.enum(['Infinity', '-Infinity', 'NaN']).transform(Number)

const latin1Schema = z
  .string()
  .max(4000)
  .regex(/^[\0-\xff]*$/, 'must be latin1 text: one character a byte')

/** Transcripts as a JSON file holds them: a list of conversations. Each byte is tried as a place to cut, so they are short. */
export const transcriptsSchema = z
  .array(
    z.strictObject({
      name: z.string().min(1),
      role: z.enum(['manometer', 'meter', 'bridge']),
      options: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
      bytes: z.union([latin1Schema, z.array(z.union([latin1Schema, z.strictObject({ sent: latin1Schema })])).max(400)]),
      readings: z.array(
        z.strictObject({
          quantity: z.enum(['pressure', 'resistance', 'contact']),
          value: z.union([z.number(), wordSchema]),
          unit: z.string(),
          digit: z.number().nullable(),
          frameBytes: z.int(),
          deviceUs: z.number().optional(),
        }),
      ),
      faults: z.array(
        z.strictObject({
          code: z.enum(['unreadable', 'held', 'low-battery', 'no-unit', 'wrong-quantity', 'overlong', 'device-error']),
          text: z.string(),
        }),
      ),
    }),
  )
  .min(1)
