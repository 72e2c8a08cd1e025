// Made-up states of a run for the screen tests: an invented part on an invented bench, drawn by simple arithmetic.
import type { Guide } from '../../src/core/guide/guidance.ts'
import { type Part, partFileSchema } from '../../src/core/model/part.ts'
import type { CycleResult, Estimate, Result } from '../../src/core/model/result.ts'
import type { Live, TracePoint, TripMark } from '../../src/core/view/live.ts'

export const samplePart: Part = partFileSchema.parse({
  model: 'HT-25',
  serial: 'T0042',
  kind: 'draft-proving',
  rated: { value: 0.25, unit: 'inH2O', on: 'make' },
  limits: {
    make: { low: 0.22, high: 0.28, unit: 'inH2O' },
    break: { low: 0.15, high: null, unit: 'inH2O' },
    differential: { low: 0.01, high: 0.09, unit: 'inH2O' },
  },
  contact: { maxOhm: 2 },
})

const makePa = 61.6
const breakPa = 47.1
/** One stroke of the sample: up to the peak and down again at even rates, then a rest. */
const strokeS = 24
const restS = 6
const peakPa = 78

function strokePa(t: number): number {
  if (t < strokeS / 2) return (peakPa * t) / (strokeS / 2)
  return t < strokeS ? peakPa * (2 - t / (strokeS / 2)) : 0
}

function estimate(valuePa: number | null, n: number): Estimate {
  const had = valuePa !== null
  return {
    valuePa,
    uPa: had ? 0.26 : null,
    UPa: had ? 0.52 : null,
    k: had ? 2 : null,
    dof: null,
    n,
    scatterPa: n > 1 ? 0.2 : null,
    allowLowPa: had ? 0 : null,
    allowHighPa: had ? 0 : null,
  }
}

function cycle(stroke: number): CycleResult {
  const why = stroke === 1 ? 'first-stroke' : stroke <= 3 ? 'precondition' : null
  const offPa = 0.15 * Math.sin(stroke)
  return {
    stroke,
    makePa: makePa + offPa,
    makeLoPa: makePa + offPa - 0.3,
    makeHiPa: makePa + offPa + 0.3,
    makeRatePaPerS: 1.2,
    breakPa: breakPa - offPa,
    breakLoPa: breakPa - offPa - 0.3,
    breakHiPa: breakPa - offPa + 0.3,
    breakRatePaPerS: 1.1,
    used: why === null,
    why,
  }
}

/** A result after `strokes` strokes, of which the first three do not count; with no counted stroke nothing is estimated. */
export function sampleResult(strokes: number, change: Partial<Result> = {}): Result {
  const used = Math.max(0, strokes - 3)
  const had = used > 0
  return {
    id: '0190a000-0000-7000-8000-000000000000',
    verdict: used >= 5 ? 'pass' : 'undecided',
    make: estimate(had ? makePa : null, used),
    break: estimate(had ? breakPa : null, used),
    differential: estimate(had ? makePa - breakPa : null, used),
    lag: { valueS: 0.05, uS: 0.02, source: 'declared' },
    firstStroke: { makePa: 61.9, breakPa: 46.8 },
    cycles: Array.from({ length: strokes }, (_, i) => cycle(i + 1)),
    contact: { medianOhm: 0.31, maxOhm: 0.35, uOhm: 0.08, poorShare: 0 },
    acted: { strokes: 8, made: 8, released: 8, discarded: 0 },
    recorded: null,
    beside: null,
    quality: {
      manometer: { lines: 2100, unreadable: 0, implausible: 0, gaps: 0, clumps: 0 },
      meter: { lines: 1400, unreadable: 0, implausible: 0, gaps: 0, clumps: 0 },
    },
    limits: [
      { name: 'make', lowPa: 54.8, highPa: 69.744, outcome: 'pass', conformance: 0.999 },
      { name: 'break', lowPa: 37.363, highPa: null, outcome: 'pass', conformance: 0.999 },
      { name: 'differential', lowPa: 2.491, highPa: 22.418, outcome: 'pass', conformance: 0.999 },
      { name: 'contact', lowPa: null, highPa: 2, outcome: 'pass', conformance: null },
    ],
    findings: [],
    budget: [],
    damage: { torn: false, corruptLines: [], seal: 'intact' },
    ...change,
  }
}

/** The same with a lag that the paces do not rule out. */
export function openResult(strokes: number): Result {
  const result = sampleResult(strokes)
  const { make, break: back, differential } = result
  return {
    ...result,
    make: { ...make, allowLowPa: 3.6 },
    break: { ...back, allowHighPa: 3.6 },
    differential: { ...differential, allowLowPa: 7.2 },
  }
}

/** The guide of the sample run in its counted cycles, on the way to a make; `change` overrides fields. */
export function sampleGuide(change: Partial<Guide> = {}): Guide {
  return {
    step: 'cycles',
    steps: [
      { name: 'cautions', state: 'done', progress: null },
      { name: 'zero', state: 'done', progress: { done: 10, wanted: 10, of: 's' } },
      { name: 'first-stroke', state: 'done', progress: null },
      { name: 'precondition', state: 'skipped', progress: { done: 1, wanted: 3, of: 'strokes' } },
      { name: 'cycles', state: 'now', progress: { done: 1, wanted: 6, of: 'strokes' } },
      { name: 'hold', state: 'todo', progress: { done: 0, wanted: 10, of: 's' } },
      { name: 'closing-zero', state: 'todo', progress: { done: 0, wanted: 10, of: 's' } },
      { name: 'verdict', state: 'todo', progress: null },
    ],
    action: 'draw',
    sentence: 'Draw slowly and evenly through the make, then let down just as slowly.',
    cautions: [],
    rate: { lowPaPerS: 0.12, aimPaPerS: 1.25, mostPaPerS: 5.8, nowPaPerS: 1.2, pace: 'good', nearTrip: true },
    target: { name: 'make', pressurePa: 62.3, leftPa: 16.8 },
    error: { errorPa: 0.4, marginPa: 3, exceeds: null },
    ballast: null,
    trouble: null,
    more: 0,
    heldS: 0,
    flow: null,
    marksSeen: 0,
    typed: null,
    ...change,
  }
}

/** The bands of the sample's results. */
export const sampleBands: Live['bands'] = [
  {
    name: 'make',
    limit: { lowPa: 54.8, highPa: 69.744 },
    accept: { lowPa: 55.32, highPa: 69.2 },
    valuePa: makePa,
    UPa: 0.52,
    allowLowPa: 0,
    allowHighPa: 0,
  },
  {
    name: 'break',
    limit: { lowPa: 37.363, highPa: null },
    accept: { lowPa: 37.9, highPa: null },
    valuePa: breakPa,
    UPa: 0.52,
    allowLowPa: 0,
    allowHighPa: 0,
  },
]

/** The state of the sample run `elapsedS` after its start; `change` overrides fields. */
export function sampleLive(elapsedS: number, change: Partial<Live> = {}): Live {
  const stroke = Math.floor(elapsedS / (strokeS + restS)) + 1
  const trace: TracePoint[] = []
  const trips: TripMark[] = []
  let actuated = false
  for (let t = Math.max(0, elapsedS - 120); t <= elapsedS; t += 0.1) {
    const pressurePa = strokePa(t % (strokeS + restS))
    const now: boolean = actuated ? pressurePa > breakPa : pressurePa >= makePa
    const at = Math.floor(t / (strokeS + restS)) + 1
    if (now !== actuated) trips.push({ tS: t, stroke: at, transition: now ? 'make' : 'break', pressurePa })
    actuated = now
    trace.push({ tS: t, pressurePa, actuated })
  }
  const pressurePa = trace.at(-1)?.pressurePa ?? null
  const before = trace.at(-6)?.pressurePa ?? null
  return {
    elapsedS,
    pressurePa,
    ratePaPerS: pressurePa !== null && before !== null ? (pressurePa - before) / 0.5 : null,
    contact: actuated ? 'closed' : 'open',
    actuated,
    ohm: actuated ? 0.31 : Number.POSITIVE_INFINITY,
    phase: stroke === 1 ? 'first-stroke' : stroke <= 3 ? 'precondition' : 'cycles',
    used: Math.max(0, stroke - 4),
    wanted: 6,
    trace,
    trips,
    links: [
      { port: 'manometer', state: 'open', readingsPerS: 10, faults: 0, lastFault: null },
      { port: 'meter', state: 'open', readingsPerS: 5, faults: 0, lastFault: null },
    ],
    guide: sampleGuide(),
    bands: sampleBands,
    recordedBytes: 123_456,
    astray: null,
    signature: null,
    next: 'Draw slowly and evenly through the make, then let down just as slowly.',
    alarm: null,
    result: sampleResult(stroke - 1),
    settlings: [],
    leftOut: [],
    lost: [],
    end: null,
    blocked: null,
    atSwitchPa: null,
    ...change,
  }
}
