// A recording made by a program that shares nothing with the project but the format: straight ramps, ideal instruments.

export type ForeignBench = {
  makePa: number
  breakPa: number
  /** Standard deviation of single trips, Pa. */
  scatterPa: number
  kickPa: number
  /** Counted strokes; one more comes first. */
  cycles: number
  ratePaPerS: (stroke: number) => number
  manometerS: number
  meterS: number
  /** Delay of the contact path and of the pressure path, and time constant of the manometer, s. */
  contactDelayS?: number
  pressureDelayS?: number
  dampingS?: number
  /** The manometer shows the mean of so long a stretch, s. */
  averageS?: number
  /** The kick falls to `stays` of itself (0 to 1) with time constant `tauS`, s; without it it stays whole. */
  kickFades?: { tauS: number; stays: number }
  /** How much later than the tee the switch feels the pressure, s. */
  hoseS?: number
  /** Added to make and break of a stroke (0 = the first), and to its break alone, Pa. */
  shiftPa?: (stroke: number) => number
  breakShiftPa?: (stroke: number) => number
  peakPa?: number
  /** Rest at the peak of the first stroke, s; at the others it is 1 s. */
  holdS?: number
  stuck?: 'rest' | 'actuated'
  /** What the clips sit on, whatever the rig says. */
  wired?: 'com-no' | 'com-nc' | 'no-nc' | 'network'
  contactOhm?: (stroke: number) => number
  /** Error of the manometer at a time, Pa. */
  offsetPa?: (tS: number) => number
  /** Rest before, between and after the strokes, s. */
  restsS?: { before: number; between: number; after: number }
  digitPa: number
  noisePa: number
  seed: number
  /** A displayed pressure, Pa with its sign, as a line. */
  line?: (shownPa: number) => string
  rig?: { manometer?: object; meter?: object; lag?: object; decision?: object; proved?: object }
  part?: object
  purpose?: string
  at?: string
}

/** Moments of one stroke, s: it begins, makes, has its peak, breaks, is vented. */
export type ForeignStroke = { startS: number; makeS: number; peakS: number; breakS: number; endS: number }

export type ForeignRecording = {
  events: ForeignEvent[]
  /** True means of the counted trips, Pa. */
  makePa: number
  breakPa: number
  strokes: ForeignStroke[]
}

export type ForeignEvent = { type: string; t?: number; port?: string; text?: string; [key: string]: unknown }

const inH2O = 249.08891
const quickPaPerS = 6

/** mulberry32, a public-domain generator: good enough for phases and scatter, and unlike any other used here. */
export function createRandom(seed: number): { uniform(): number; normal(): number } {
  let a = seed >>> 0
  const uniform = () => {
    a = (a + 0x6d2b79f5) >>> 0
    let t = Math.imul(a ^ (a >>> 15), a | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  const normal = () => Math.sqrt(-2 * Math.log(uniform() + 1e-300)) * Math.cos(2 * Math.PI * uniform())
  return { uniform, normal }
}

/** The bench that most tests start from: 62 and 47 Pa, a kick of 3 Pa, ten readings a second against five. */
export const quietBench: ForeignBench = {
  makePa: 62,
  breakPa: 47,
  scatterPa: 0.3,
  kickPa: 3,
  holdS: 6,
  cycles: 6,
  ratePaPerS: (stroke) => [1, 2, 3][stroke % 3]!,
  manometerS: 0.1,
  meterS: 0.2,
  digitPa: 0.001 * inH2O,
  noisePa: 0.05,
  seed: 1,
}

/** Events of the session, the true means of its counted trips, and when everything happened. */
export function makeForeignRecording(bench: ForeignBench): ForeignRecording {
  const random = createRandom(bench.seed)
  const rests = bench.restsS ?? { before: 13, between: 3, after: 12 }
  const peakPa = bench.peakPa ?? 1.25 * 0.25 * inH2O
  const knots: { t: number; p: number }[] = [{ t: 0, p: 0 }]
  const trips: { t: number; to: boolean; stroke: number }[] = []
  const strokes: ForeignStroke[] = []
  const [makes, breaks]: [number[], number[]] = [[], []]
  let t = rests.before
  const goTo = (p: number, seconds: number) => {
    t += seconds
    knots.push({ t, p })
  }
  goTo(0, 0)
  for (let stroke = 0; stroke <= bench.cycles; stroke++) {
    const rate = bench.ratePaPerS(stroke)
    const shift = bench.shiftPa?.(stroke) ?? 0
    const make = bench.makePa + shift + bench.scatterPa * random.normal()
    const back = bench.breakPa + shift + (bench.breakShiftPa?.(stroke) ?? 0) + bench.scatterPa * random.normal()
    if (stroke > 0) makes.push(make)
    if (stroke > 0) breaks.push(back)
    const kick = bench.stuck ? 0 : bench.kickPa
    const hose = bench.hoseS ?? 0
    // Hand: quick to 0.8 of the make, slow past it, quick to the peak and back, slow past the break, quick to zero. The kick is added.
    const startS = t
    goTo(0.8 * make, (0.8 * make) / quickPaPerS)
    const makeS = t + (0.2 * make) / rate + hose
    const past = Math.min(peakPa, 1.08 * make + rate * hose)
    goTo(past, (past - 0.8 * make) / rate)
    goTo(peakPa, (peakPa - past) / quickPaPerS)
    goTo(peakPa, stroke === 0 ? (bench.holdS ?? 1) : 1)
    const peakS = t
    // On the way down the switch hangs on the lower pressure that the kick left behind.
    const left = kick * kickLeft(bench, (peakPa + 8 - back) / Math.min(rate, quickPaPerS))
    const [high, low] = [back + left + 8, Math.max(0, back + left - 8 - rate * hose)]
    goTo(high, (peakPa - high) / quickPaPerS)
    let breakS = t + (high - left - back) / rate + hose
    // What is left of the make's kick there moves the moment a little, and the moment that.
    for (let i = 0; i < 3; i++) breakS = t + (high - kick * kickLeft(bench, breakS - makeS) - back) / rate + hose
    goTo(low, (high - low) / rate)
    goTo(0, low / quickPaPerS)
    trips.push({ t: makeS, to: true, stroke }, { t: breakS, to: false, stroke })
    strokes.push({ startS, makeS, peakS, breakS, endS: t })
    goTo(0, rests.between)
  }
  goTo(0, Math.max(0, rests.after - rests.between))
  const actuatedAt = (at: number) =>
    bench.stuck ? bench.stuck === 'actuated' : (trips.findLast((x) => x.t <= at)?.to ?? false)
  const hand = createPath(knots)
  const kickAt = (at: number) => {
    const stroke = strokes.findLast((s) => s.startS <= at)
    if (bench.stuck || !stroke || at > stroke.endS) return 0
    const since = (tripS: number) => (at < tripS ? 0 : bench.kickPa * kickLeft(bench, at - tripS))
    return since(stroke.makeS) - since(stroke.breakS)
  }
  const pressureAt = averaged(
    damped((at) => Math.max(0, hand(at) - kickAt(at)), bench.dampingS ?? 0),
    bench.averageS ?? 0,
  )
  const out: { t: number; event: ForeignEvent }[] = []
  for (let at = random.uniform() * bench.manometerS; at < t; at += bench.manometerS) {
    const error = (bench.offsetPa?.(at) ?? 0) + bench.noisePa * random.normal()
    const p = pressureAt(at - (bench.pressureDelayS ?? 0)) + error
    const shown = -Math.round(p / bench.digitPa) * bench.digitPa
    const text = bench.line?.(shown) ?? `${(shown / inH2O).toFixed(5)} inH2O\r\n`
    out.push({ t: at, event: { type: 'rx', port: 'manometer', text } })
  }
  for (let at = random.uniform() * bench.meterS; at < t; at += bench.meterS) {
    const seenS = at - (bench.contactDelayS ?? 0)
    const stroke = Math.max(
      0,
      strokes.findLastIndex((s) => s.startS <= seenS),
    )
    out.push({ t: at, event: { type: 'tx', port: 'meter', text: 'READ?\n' } })
    out.push({ t: at, event: { type: 'rx', port: 'meter', text: contactText(bench, actuatedAt(seenS), stroke) } })
  }
  for (let at = 0.25; at < t; at += 0.25) out.push({ t: at, event: { type: 'tick' } })
  out.sort((a, b) => a.t - b.t)
  const mean = (xs: number[]) => xs.reduce((a, b) => a + b, 0) / xs.length
  const body = out.map(({ t, event }) => ({ ...event, t: Math.round(t * 1e6) }))
  return {
    events: [start(bench), ...body, { type: 'end', t: Math.round(t * 1e6), reason: 'finished' }],
    makePa: mean(makes),
    breakPa: mean(breaks),
    strokes,
  }
}

/** The pressure along straight lines between knots; found fast where it is asked in the order of time. */
function createPath(knots: readonly { t: number; p: number }[]): (at: number) => number {
  let i = 0
  return (at) => {
    if (at < (knots[i - 1]?.t ?? 0)) i = 0
    while (i < knots.length && knots[i]!.t < at) i++
    const [a, b] = [knots[i - 1], knots[i]]
    if (!a || !b) return 0
    return b.t === a.t ? b.p : a.p + ((b.p - a.p) * (at - a.t)) / (b.t - a.t)
  }
}

/** `source` behind a first-order lag, in steps of 2 ms; must be asked in the order of time. */
function damped(source: (at: number) => number, tauS: number): (at: number) => number {
  if (tauS === 0) return source
  const stepS = 0.002
  let atS = 0
  let p = 0
  return (at) => {
    for (; atS + stepS <= at; atS += stepS) p += (source(atS + stepS) - p) * (1 - Math.exp(-stepS / tauS))
    return p
  }
}

/** What is left of a kick `sinceS` after it, as a share. */
function kickLeft({ kickFades }: ForeignBench, sinceS: number): number {
  return kickFades ? kickFades.stays + (1 - kickFades.stays) * Math.exp(-sinceS / kickFades.tauS) : 1
}

/** The mean of `source` over the last `spanS`, at 20 moments of it. */
function averaged(source: (at: number) => number, spanS: number): (at: number) => number {
  if (spanS === 0) return source
  const moments = Array.from({ length: 20 }, (_, i) => ((i + 0.5) / 20) * spanS)
  return (at) => moments.reduce((sum, agoS) => sum + source(at - agoS), 0) / moments.length
}

const open = '+9.9E+37\n'
const ohms = (ohm: number) => `${ohm.toExponential(3)}\n`

function contactText({ wired = 'com-no', contactOhm }: ForeignBench, actuated: boolean, stroke: number): string {
  const ohm = contactOhm?.(stroke) ?? 0.31
  if (wired === 'no-nc') return open
  // 100 ohm or 220 ohm beside 1 000 ohm.
  if (wired === 'network') return ohms(actuated ? 90.909 : 180.328)
  return actuated === (wired === 'com-no') ? ohms(ohm) : open
}

function start(bench: ForeignBench): ForeignEvent {
  return {
    type: 'start',
    format: 1,
    id: '01980000-0000-7000-8000-000000000001',
    at: bench.at ?? '2026-03-02T09:00:00.000Z',
    purpose: bench.purpose ?? 'certify',
    simulated: true,
    part: {
      kind: 'draft-proving',
      rated: { value: 0.25, unit: 'inH2O', on: 'make' },
      limits: {
        make: { low: 0.22, high: 0.28, unit: 'inH2O' },
        break: { low: 0.15, high: null, unit: 'inH2O' },
        differential: { low: 0.01, high: 0.09, unit: 'inH2O' },
      },
      contact: { maxOhm: 2 },
      ...bench.part,
    },
    rig: {
      ...bench.rig,
      manometer: {
        driver: 'ascii-line',
        options: { unit: 'inH2O' },
        suctionSign: -1,
        accuracy: { ofReading: 0, ofFullScale: 0.0025, fullScale: { value: 2, unit: 'inH2O' }, distribution: 'normal' },
        digit: { value: bench.digitPa, unit: 'Pa' },
        ...bench.rig?.manometer,
      },
      meter: {
        driver: 'scpi-query',
        options: { command: 'READ?', intervalMs: 200 },
        pair: bench.wired === 'network' ? 'network' : 'com-no',
        ...bench.rig?.meter,
      },
    },
    conditions: { temperatureC: 21, attitude: 'ports down', restS: 28800 },
  }
}

/** The recording with the lines of one port rewritten; `null` leaves a line out. */
export function rewrite(
  recording: ForeignRecording,
  port: 'manometer' | 'meter',
  change: (tS: number, text: string) => string | null,
): ForeignRecording {
  const events = recording.events.flatMap((event) => {
    if (event.type !== 'rx' || event.port !== port) return [event]
    const text = change((event.t ?? 0) / 1e6, event.text ?? '')
    return text === null ? [] : [{ ...event, text }]
  })
  return { ...recording, events }
}

/** The recording with events put in at their times. */
export function withEvents(recording: ForeignRecording, more: readonly ForeignEvent[]): ForeignRecording {
  const events = [...recording.events]
  for (const event of more) {
    const at = events.findIndex((e) => (e.t ?? -1) > (event.t ?? 0))
    events.splice(at < 0 ? events.length : at, 0, event)
  }
  return { ...recording, events }
}

export const mark = (tS: number, name: string, text?: string): ForeignEvent => ({
  type: 'mark',
  t: Math.round(tS * 1e6),
  mark: name,
  by: 'operator',
  ...(text === undefined ? {} : { text }),
})
