// A test whose pressures were typed, as events of a recording: a meter that sends, or keys, and what a careful person types.
import type { ForeignEvent } from './foreign-recording.ts'

export type TypedBench = {
  /** Displayed without its sign, inH2O, of each stroke; null: nothing was typed. */
  make: (stroke: number) => number | null
  break: (stroke: number) => number | null
  strokes: number
  zero: { before: number | null; after: number | null }
  /** Typed at the start and the end of a hold in the second stroke; null: it is not held. */
  hold: { from: number; to: number; forS: number } | null
  /** Of a stroke: seconds from its make to its break. */
  heldS: number
  contact: 'sends' | 'keyed'
  part: object
  rig: object
  /** Options of the typed manometer. */
  options: object
  /** The contact closes in spells of its own, s. */
  closes: readonly (readonly [fromS: number, toS: number])[]
  /** Of the lines of the meter those that came. */
  heard: (tS: number) => boolean
  more: readonly ForeignEvent[]
  end: string
}

/** Eight strokes of a good part that trips at 0.250 and 0.190 inH2O, with limits that are far. */
export const carefulTypist: TypedBench = {
  make: (stroke) => 0.25 + 0.001 * ((stroke * 2) % 3),
  break: (stroke) => 0.19 - 0.001 * (stroke % 2),
  strokes: 8,
  zero: { before: 0, after: 0 },
  hold: { from: 0.3, to: 0.299, forS: 20 },
  heldS: 20,
  contact: 'sends',
  part: {},
  rig: {},
  options: {},
  closes: [],
  heard: () => true,
  more: [],
  end: 'finished',
}

const firstS = 20
const everyS = 60

/** When a stroke makes, s. */
export const makeS = (stroke: number): number => firstS + everyS * stroke

/** All events but the seal. */
export function typedSession(change: Partial<TypedBench> = {}): ForeignEvent[] {
  const bench = { ...carefulTypist, ...change }
  const endS = makeS(bench.strokes) + 20
  const events: ForeignEvent[] = []
  const at = (tS: number, event: ForeignEvent) => events.push({ ...event, t: Math.round(tS * 1e6) })
  const type = (tS: number, what: string, value: number | null) => {
    if (value === null) return
    at(tS, { type: 'typed', what, text: (-value).toFixed(3), unit: 'inH2O', digit: 0.001 })
  }
  const spells = [...bench.closes]
  type(8, 'zero', bench.zero.before)
  if (bench.contact === 'keyed') at(9, { type: 'typed', what: 'contact', text: 'open' })
  for (let stroke = 0; stroke < bench.strokes; stroke++) {
    const madeS = makeS(stroke)
    const brokeS = madeS + bench.heldS + (stroke === 1 && bench.hold ? bench.hold.forS : 0)
    spells.push([madeS, brokeS])
    type(madeS + 4, 'make', bench.make(stroke))
    if (stroke === 1 && bench.hold) {
      type(madeS + 8, 'hold-start', bench.hold.from)
      type(madeS + 8 + bench.hold.forS, 'hold-end', bench.hold.to)
    }
    type(brokeS + 4, 'break', bench.break(stroke))
    if (bench.contact === 'keyed') {
      at(madeS + 0.3, { type: 'typed', what: 'contact', text: 'closed' })
      at(brokeS + 0.3, { type: 'typed', what: 'contact', text: 'open' })
    }
  }
  type(endS - 5, 'zero', bench.zero.after)
  const isClosed = (tS: number) => spells.some(([from, to]) => tS >= from && tS < to)
  for (let tS = 0; tS < endS; tS += 0.25) {
    at(tS, { type: 'tick' })
    if (bench.contact === 'sends' && bench.heard(tS))
      at(tS + 0.01, { type: 'rx', port: 'meter', text: isClosed(tS) ? '0.31\n' : '9.9E37\n' })
  }
  events.push(...bench.more, { type: 'end', t: endS * 1e6, reason: bench.end })
  events.sort((a, b) => a.t! - b.t!)
  return [startOf(bench), ...events]
}

function startOf({ contact, part, rig, options }: TypedBench): ForeignEvent {
  return {
    type: 'start',
    format: 1,
    id: '01980f3a-5b1c-7cc3-98c4-dc0c0c073991',
    at: '2026-01-05T09:00:00.000Z',
    purpose: 'certify',
    simulated: true,
    operator: null,
    part: {
      model: 'HL-Proving 3',
      serial: '0420',
      kind: 'draft-proving',
      rated: { value: 0.25, unit: 'inH2O', on: 'make' },
      limits: {
        make: { low: 0.17, high: 0.36, unit: 'inH2O' },
        break: { low: 0.08, high: null, unit: 'inH2O' },
      },
      ...part,
    },
    rig: {
      name: 'Hollin Lane workshop, bench 3 (typed)',
      manometer: {
        driver: 'typed',
        options,
        suctionSign: -1,
        accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: 2, unit: 'inH2O' } },
        digit: { value: 0.001, unit: 'inH2O' },
      },
      meter:
        contact === 'keyed'
          ? { driver: 'typed', pair: 'com-no' }
          : { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no', leadsOhm: 0.2 },
      ...rig,
    },
    conditions: { temperatureC: 21, attitude: 'ports down', restS: 28_800 },
    software: 'makebreak test',
  }
}
