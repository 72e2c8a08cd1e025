// What is asked before each test of a lot into a serial number, and the conditions and the job that its recording states.
import { z } from 'zod'
import type { Conditions } from './conditions.ts'
import type { Job } from './job.ts'
import { about } from './schema.ts'

/** The serial number comes first: a scanner types it, and its Enter starts the test. */
export const lotSchema = z.strictObject({
  // A longer one would make the recording's first line grow without end.
  serial: z
    .string()
    .max(100)
    .nullish()
    .meta(about('serial number', 'Typed, pasted or scanned; left out where the part has none.', { example: 'A1047' })),
  // A workshop's temperatures; what is outside is a slip of the finger.
  temperatureC: z
    .number()
    .min(-40)
    .max(85)
    .nullish()
    .meta(about('temperature', 'Of the room and the part; left out: not stated.', { unit: '°C', example: 21.5 })),
  attitude: z
    .string()
    .nullish()
    .meta(about('attitude', 'How the part lies or hangs; left out: not stated.', { example: 'ports down' })),
  // Ten years at most.
  restH: z
    .number()
    .min(0)
    .max(87_600)
    .nullish()
    .meta(about('at rest', 'How long it has not been actuated; left out: not stated.', { unit: 'h', example: 8 })),
  customer: z
    .string()
    .max(100)
    .nullish()
    .meta(about('customer', 'Who it is tested for; left out: not stated.', { example: 'Stove shop' })),
  order: z
    .string()
    .max(100)
    .nullish()
    .meta(about('order', 'The order that it belongs to; left out: not stated.', { example: '4711' })),
})

/** Null where it was not stated. */
export function lotOf({ serial, temperatureC, attitude, restH, customer, order }: z.infer<typeof lotSchema>): {
  serial: string | null
  conditions: Conditions
  job: Partial<{ [Name in keyof Job]: string }>
} {
  return {
    serial: serial || null,
    conditions: {
      temperatureC: temperatureC ?? null,
      attitude: attitude || null,
      restS: restH === null || restH === undefined ? null : restH * 3600,
    },
    job: { ...(customer && { customer }), ...(order && { order }) },
  }
}
