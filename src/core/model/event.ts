// The events of a recording, format 1: one JSON object into a checked event, or null.

import { z } from 'zod'
import { conditionsSchema } from './conditions.ts'
import { markNames } from './marks.ts'
import { recordedPartSchema } from './part.ts'
import { purposes } from './purposes.ts'
import { portNames, recordedRigSchema } from './rig.ts'
import { typedSchema } from './typed.ts'

export const endReasons = ['finished', 'abandoned', 'link-lost', 'over-pressure'] as const
export type EndReason = (typeof endReasons)[number]

const t = z.int().nonnegative()
const port = z.enum(portNames)
const bytes = { t, port, text: z.string().optional(), b64: z.base64().optional() }

const eventSchema = z.discriminatedUnion('type', [
  z.looseObject({
    type: z.literal('start'),
    format: z.literal(1),
    id: z.string(),
    at: z.string(),
    purpose: z.enum(purposes),
    simulated: z.boolean().default(false),
    operator: z.unknown().optional(),
    part: recordedPartSchema,
    rig: recordedRigSchema,
    conditions: conditionsSchema.nullish(),
    software: z.unknown().optional(),
    /** The sha256 (hex) of the file of each driver that was not the program's own, by its id. */
    drivers: z.record(z.string(), z.string()).optional(),
    /** The id of the recording that this test goes on from, or does once more. */
    continues: z.string().nullish(),
    repeats: z.string().nullish(),
    /** The digest of this bench's recording before. */
    previous: z.string().nullish(),
    job: z.looseObject({ customer: z.string().nullish(), order: z.string().nullish() }).nullish(),
  }),
  z.looseObject({ type: z.literal('rx'), ...bytes }),
  z.looseObject({ type: z.literal('tx'), ...bytes }),
  typedSchema,
  z.looseObject({ type: z.literal('tick'), t }),
  z.looseObject({
    type: z.literal('mark'),
    t,
    mark: z.enum(markNames),
    by: z.enum(['operator', 'flow']).nullish(),
    text: z.string().optional(),
  }),
  z.looseObject({
    type: z.literal('link'),
    t,
    port,
    state: z.enum(['open', 'lost', 'back']),
    why: z.string().nullish(),
  }),
  z.looseObject({ type: z.literal('end'), t, reason: z.enum(endReasons) }),
  z.looseObject({ type: z.literal('verdict'), t, result: z.unknown() }),
  z.looseObject({
    type: z.literal('seal'),
    t,
    lines: z.int().nonnegative(),
    sha256: z.string(),
    /** The fingerprint of the key that signed it, and the signature. */
    key: z.string().optional(),
    sig: z.string().optional(),
  }),
])

export type RunEvent = z.infer<typeof eventSchema>
export type StartEvent = Extract<RunEvent, { type: 'start' }>
export type BytesEvent = Extract<RunEvent, { type: 'rx' | 'tx' }>

/**
 * What a reader hands to `step`: the events as recorded (a seal with what the reader found when it checked it), and two
 * that only a reader can see. `corrupt` = a damaged line, by number (from 1) and byte offset; `torn` = bytes after the last line.
 */
export type RecordedEvent =
  | Exclude<RunEvent, { type: 'seal' }>
  | (Extract<RunEvent, { type: 'seal' }> & { matches: boolean })
  | { type: 'corrupt'; line: number; offset: number; why: string }
  | { type: 'torn'; bytes: number }

/** `why` a line is damaged that is whole but for its end: the one that many programs for text give it. */
export const changedLineEnd = 'line end changed to CRLF'

/** Nearly all lines of a recording: a tick, or bytes as text. What is asked of them in the schema, in a tenth of its time. */
function isUsual(json: unknown): json is RunEvent {
  if (typeof json !== 'object' || json === null) return false
  const { type, t, port, text, b64 } = json as Record<string, unknown>
  if (!(Number.isSafeInteger(t) && (t as number) >= 0)) return false
  if (type !== 'rx' && type !== 'tx') return type === 'tick'
  return typeof text === 'string' && b64 === undefined && portNames.some((name) => name === port)
}

/** The checked event of one JSON value; `why` names the first thing wrong where it is no known event. */
export function parseEvent(json: unknown): { event: RunEvent } | { why: string } {
  if (isUsual(json)) return { event: json }
  const parsed = eventSchema.safeParse(json)
  if (!parsed.success) {
    const issue = parsed.error.issues[0]
    return { why: `${issue?.path.join('.') || 'event'}: ${issue?.message ?? 'not a known event'}` }
  }
  const { data } = parsed
  if ((data.type === 'rx' || data.type === 'tx') && (data.text === undefined) === (data.b64 === undefined))
    return { why: `${data.type}: exactly one of text and b64 is needed` }
  return { event: data }
}

/** The bytes of an `rx` or `tx` event as latin1 text: one char a byte. */
export function eventBytes(event: BytesEvent): string {
  return event.text ?? atob(event.b64 ?? '')
}
