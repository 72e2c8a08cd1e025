// The whole contract that a driver's author reads: what a driver is, and checkDriver(), which says what is wrong with one.
import { z } from 'zod'
import { decodedFault } from './core/intake/decoded-fault.ts'
import type { Decode, Decoded, Quantity, Way } from './core/model/reading.ts'
import { issueLines } from './core/model/schema.ts'
import { errorText } from './core/text/error-text.ts'
import { printable } from './core/text/printable.ts'
import { Problem } from './errors.ts'

/** One option of a driver as plain data; form, schema and check are made from it. */
export type OptionSpec =
  | { kind: 'choice'; values: readonly string[]; default: string; help: string }
  | { kind: 'number'; unit?: string; min: number; max: number; default: number; whole?: true; help: string }
  | { kind: 'text'; default: string; help: string }

export type OptionValue = string | number
export type Options = Readonly<Record<string, OptionValue>>

export type SerialSettings = {
  baudRate: number
  dataBits: 7 | 8
  parity: 'none' | 'even' | 'odd'
  stopBits: 1 | 2
}

/** `lines`: one line an event (`lf` covers CRLF). `bytes`: pieces as they come. */
export type Framing = { kind: 'lines'; end: 'lf' | 'cr' } | { kind: 'bytes' }

/**
 * One question: `bytes` (latin1 text, one char a byte) goes out, and the next one `periodMs` later, once the reply is
 * in: one line, or bytes followed by `quietMs` of silence, else given up after `replyMs`. Its own echo does not count.
 */
export type Query = { bytes: string; periodMs: number; replyMs: number; quietMs: number }

/**
 * What the acquisition process needs to know, as data. `start` is sent once at each connection; the queries of `poll`
 * are sent in turn, over and over, one in flight. An instrument that sends by itself has none.
 */
export type Wire = {
  framing: Framing
  start: string | null
  poll: readonly Query[]
  maxFrameBytes: number
}

/** What the instrument is used for: a manometer yields pressure, a meter resistance or the contact's state, a bridge both. */
export type Role = 'manometer' | 'meter' | 'bridge'

/** What `decode` knows beside the bytes. */
export type Context = { options: Options; role: Role; way: Way }

export type Driver<M = unknown> = {
  /** The file's name without ending: an open standard or the shape of its lines, never a product. */
  id: string
  title: string
  serial: SerialSettings
  options: Readonly<Record<string, OptionSpec>>
  channels: readonly { name: string; quantity: Quantity; unit: string }[]
  wire: (options: Options) => Wire
  /** Where true, `decode` is handed what was sent as well, each command whole; else it hears the instrument alone. */
  hearsSent?: boolean
  /**
   * Pure. A reading may tell when its instrument took it (`deviceUs`): then each does. `way` says whether `chunk` was received or sent; what was sent gives no reading. `chunk` is latin1 text (one char a byte) split anywhere: splitting what was received changes nothing. `memory` is what the last
   * call returned, null at first and after each reconnect, when the first bytes may be the tail of a frame that must not
   * be read as a whole one; it stays bounded on any noise. Never throws.
   */
  decode: (memory: M | null, chunk: string, context: Context) => Decoded<M>
}

/** All of a driver that is needed where nothing is decoded. */
export type DriverFacts = Omit<Driver, 'decode'>

const optionSchema = z.discriminatedUnion('kind', [
  z
    .strictObject({
      kind: z.literal('choice'),
      values: z.array(z.string()).min(1),
      default: z.string(),
      help: z.string(),
    })
    .refine((o) => o.values.includes(o.default), 'its default is not one of its values'),
  z
    .strictObject({
      kind: z.literal('number'),
      unit: z.string().optional(),
      min: z.number(),
      max: z.number(),
      default: z.number(),
      whole: z.literal(true).optional(),
      help: z.string(),
    })
    .refine((o) => !o.whole || Number.isInteger(o.default), 'its default is not a whole number')
    .refine((o) => o.min <= o.default && o.default <= o.max, 'its default is outside min and max'),
  z.strictObject({ kind: z.literal('text'), default: z.string(), help: z.string() }),
])

const callable = z.custom((value) => typeof value === 'function', 'must be a function')

const driverSchema = z.looseObject({
  id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'must be lower-case words joined by hyphens'),
  title: z.string().min(1),
  serial: z.strictObject({
    baudRate: z.int().min(50).max(4_000_000),
    dataBits: z.union([z.literal(7), z.literal(8)]),
    parity: z.enum(['none', 'even', 'odd']),
    stopBits: z.union([z.literal(1), z.literal(2)]),
  }),
  options: z.record(z.string(), optionSchema),
  channels: z
    .array(
      z.strictObject({
        name: z.string().min(1),
        quantity: z.enum(['pressure', 'resistance', 'contact']),
        unit: z.string().min(1),
      }),
    )
    .min(1),
  wire: callable,
  hearsSent: z.boolean().optional(),
  decode: callable,
})

const bytesSchema = z.string().regex(/^[\0-\xff]+$/, 'must be latin1 text: one character a byte')

const querySchema = z.strictObject({
  bytes: bytesSchema,
  periodMs: z.number().positive(),
  replyMs: z.number().positive(),
  quietMs: z.number().nonnegative(),
})

const wireSchema = z.strictObject({
  framing: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('lines'), end: z.enum(['lf', 'cr']) }),
    z.strictObject({ kind: z.literal('bytes') }),
  ]),
  start: bytesSchema.nullable(),
  // Drivers written before queries took turns state one query, or null for none.
  poll: z.preprocess(
    (poll) => (Array.isArray(poll) ? poll : poll === null ? [] : [poll]),
    z.array(querySchema).max(16),
  ),
  maxFrameBytes: z.int().min(1).max(16_384),
})

/** What is wrong with `value` as a driver, each as `field: what`; empty where it is one. Calls `wire` and `decode` once, with the defaults. */
export function checkDriver(value: unknown): string[] {
  const shape = driverSchema.safeParse(value)
  if (!shape.success) return value === undefined ? ['it exports no "driver"'] : issueLines(shape.error)
  const driver = value as Driver
  try {
    const options = resolveOptions(driver, {})
    const wire = wireSchema.safeParse(driver.wire(options))
    if (!wire.success) return issueLines(wire.error).map((line) => `wire(): ${line}`)
    const wrong = decodedFault(driver.decode(null, '', { options, role: 'manometer', way: 'received' }))
    return wrong === null ? [] : [`decode(): ${wrong}`]
  } catch (error) {
    return [`wire() or decode() threw: ${errorText(error)}`]
  }
}

/** The wire of `driver` for its `options`, one query or null in it read as a list. Throws the Problem `driver-invalid` where it gives none, or throws. */
export function wireOf(driver: DriverFacts, options: Options): Wire {
  const refuse = (why: string) => new Problem('driver-invalid', `The driver "${driver.id}": ${why}.`)
  let given: unknown
  try {
    given = driver.wire(options)
  } catch (error) {
    throw refuse(`wire() threw: ${errorText(error)}`)
  }
  const wire = wireSchema.safeParse(given)
  if (wire.success) return wire.data
  throw refuse(
    issueLines(wire.error)
      .map((line) => `wire(): ${line}`)
      .join('; '),
  )
}

/**
 * The options of `driver` with defaults filled in. Throws the Problem `rig-invalid` for a wrong type, value or range, and
 * for an option that the driver does not have, unless they come from a recording, where unknown keys are ignored.
 */
export function resolveOptions(
  driver: Pick<Driver, 'id' | 'options'>,
  given: Options | null | undefined,
  from: 'file' | 'recording' = 'file',
): Options {
  const names = Object.keys(driver.options)
  for (const name of Object.keys(given ?? {}))
    if (from === 'file' && !names.includes(name))
      throw new Problem(
        'rig-invalid',
        `The driver "${driver.id}" has no option "${printable(name)}"; it has ${names.join(', ') || 'none'}.`,
      )
  return Object.fromEntries(
    Object.entries(driver.options).map(([name, spec]) => {
      const value = given && Object.hasOwn(given, name) ? given[name] : undefined
      if (value === undefined) return [name, spec.default]
      const expected = expectedOf(spec, value)
      if (expected === null) return [name, value]
      const shown = typeof value === 'string' ? `"${printable(value)}"` : value
      throw new Problem(
        'rig-invalid',
        `Option "${name}" of the driver "${driver.id}" is ${shown}; it must be ${expected}.`,
      )
    }),
  )
}

/** What an option must be, where `value` is not that; else null. */
function expectedOf(spec: OptionSpec, value: OptionValue): string | null {
  if (spec.kind === 'choice') return spec.values.includes(String(value)) ? null : `one of ${spec.values.join(', ')}`
  if (spec.kind === 'text') {
    const fits = typeof value === 'string' && /^[ -~]{0,200}$/.test(value)
    return fits ? null : 'a text of at most 200 printable ASCII characters'
  }
  const inRange = typeof value === 'number' && value >= spec.min && value <= spec.max
  const fits = inRange && (!spec.whole || Number.isInteger(value))
  return fits
    ? null
    : `a ${spec.whole ? 'whole ' : ''}number from ${spec.min} to ${spec.max}${spec.unit ? ` ${spec.unit}` : ''}`
}

/** Null where nothing was read of what was sent. */
export function sentFault({ readings }: Decoded<unknown>, way: Way): string | null {
  return way === 'sent' && readings.length > 0 ? `${readings.length} readings came of what was sent; none may` : null
}

/** How long one round of the queries takes where each is answered in time; null for an instrument that is not asked. */
export function roundMs({ poll }: Pick<Wire, 'poll'>): number | null {
  return poll.length === 0 ? null : poll.reduce((sum, { periodMs }) => sum + periodMs, 0)
}

/** `driver.decode` with its options and role bound. Fault texts are made safe to show; one that throws, or gives no such result, gives a fault. */
export function bindDecode(driver: Driver, options: Options, role: Role): Decode {
  return (memory, chunk, way) => {
    if (way === 'sent' && driver.hearsSent !== true) return { readings: [], faults: [], memory }
    try {
      const decoded = driver.decode(memory, chunk, { options, role, way })
      const wrong = decodedFault(decoded) ?? sentFault(decoded, way)
      if (wrong !== null) throw new Error(wrong)
      if (decoded.faults.length === 0) return decoded
      return { ...decoded, faults: decoded.faults.map(({ code, text }) => ({ code, text: printable(text) })) }
    } catch (error) {
      const text = printable(`the driver ${driver.id} failed: ${errorText(error)}`)
      return { readings: [], faults: [{ code: 'unreadable', text }], memory: null }
    }
  }
}
