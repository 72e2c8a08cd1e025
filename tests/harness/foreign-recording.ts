// A recording made by a program that shares nothing with the project but the format: straight ramps, instant instruments.

export type ForeignBench = {
  makePa: number
  breakPa: number
  scatterPa: number
  kickPa: number
  cycles: number
  ratePaPerS: (stroke: number) => number
  manometerS: number
  meterS: number
  /** Delay of the contact path and of the pressure path, s. */
  contactDelayS?: number
  pressureDelayS?: number
  digitPa: number
  noisePa: number
  seed: number
  rig?: object
  part?: object
  purpose?: string
}

const inH2O = 249.08891

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

const peakPa = 1.25 * 0.25 * inH2O
const restS = 3

/** Events of the session and the true means of its counted trips. */
export function makeForeignRecording(bench: ForeignBench): { events: object[]; makePa: number; breakPa: number } {
  const random = createRandom(bench.seed)
  const trips: { t: number; to: boolean; pressureStep: number }[] = []
  const knots: { t: number; p: number }[] = [{ t: 0, p: 0 }]
  const makes: number[] = []
  const breaks: number[] = []
  let t = 13
  knots.push({ t, p: 0 })
  for (let stroke = 0; stroke <= bench.cycles; stroke++) {
    const rate = bench.ratePaPerS(stroke)
    const make = bench.makePa + bench.scatterPa * random.normal()
    const back = bench.breakPa + bench.scatterPa * random.normal()
    if (stroke > 0) makes.push(make)
    if (stroke > 0) breaks.push(back)
    // Hand: quick to 0.7 of the make, slow to the peak, slow down below the break, quick to zero. The kick is added to it.
    t += (0.7 * make) / 6
    knots.push({ t, p: 0.7 * make })
    trips.push({ t: t + (0.3 * make) / rate, to: true, pressureStep: -bench.kickPa })
    t += (peakPa - 0.7 * make) / rate
    knots.push({ t, p: peakPa })
    t += 1
    knots.push({ t, p: peakPa })
    // On the way down the switch hangs on the lower pressure that the kick left behind.
    const low = back - 8
    trips.push({ t: t + (peakPa - bench.kickPa - back) / rate, to: false, pressureStep: 0 })
    t += (peakPa - bench.kickPa - low) / rate
    knots.push({ t, p: low + bench.kickPa })
    t += low / 6
    knots.push({ t, p: 0 })
    t += restS
    knots.push({ t, p: 0 })
  }
  t += 9
  knots.push({ t, p: 0 })
  const hand = (at: number) => {
    const i = knots.findIndex((k) => k.t >= at)
    const [a, b] = [knots[i - 1], knots[i]]
    if (!a || !b) return 0
    return b.t === a.t ? b.p : a.p + ((b.p - a.p) * (at - a.t)) / (b.t - a.t)
  }
  const actuated = (at: number) => trips.findLast((x) => x.t <= at)?.to ?? false
  const pressure = (at: number) => Math.max(0, hand(at) - (actuated(at) ? bench.kickPa : 0))
  const out: { t: number; event: object }[] = []
  for (let at = random.uniform() * bench.manometerS; at < t; at += bench.manometerS) {
    const p = pressure(at - (bench.pressureDelayS ?? 0)) + bench.noisePa * random.normal()
    const shown = (-Math.round(p / bench.digitPa) * bench.digitPa) / inH2O
    out.push({ t: at, event: { type: 'rx', port: 'manometer', text: `${shown.toFixed(5)} inH2O\r\n` } })
  }
  for (let at = random.uniform() * bench.meterS; at < t; at += bench.meterS) {
    const closed = actuated(at - (bench.contactDelayS ?? 0))
    out.push({ t: at, event: { type: 'tx', port: 'meter', text: 'READ?\n' } })
    out.push({ t: at, event: { type: 'rx', port: 'meter', text: closed ? '+3.1E-01\n' : '+9.9E+37\n' } })
  }
  for (let at = 0.25; at < t; at += 0.25) out.push({ t: at, event: { type: 'tick' } })
  out.sort((a, b) => a.t - b.t)
  const mean = (xs: number[]) => xs.reduce((a, b) => a + b, 0) / xs.length
  const body = out.map(({ t, event }) => ({ ...event, t: Math.round(t * 1e6) }))
  return {
    events: [start(bench), ...body, { type: 'end', t: Math.round(t * 1e6), reason: 'finished' }],
    makePa: mean(makes),
    breakPa: mean(breaks),
  }
}

function start(bench: ForeignBench): object {
  return {
    type: 'start',
    format: 1,
    id: '01980000-0000-7000-8000-000000000001',
    at: '2026-03-02T09:00:00.000Z',
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
      manometer: {
        driver: 'ascii-line',
        options: { unit: 'inH2O' },
        suctionSign: -1,
        accuracy: { ofReading: 0, ofFullScale: 0.0025, fullScale: { value: 2, unit: 'inH2O' }, distribution: 'normal' },
        digit: { value: bench.digitPa, unit: 'Pa' },
      },
      meter: { driver: 'scpi-query', options: { command: 'READ?', intervalMs: 200 }, pair: 'com-no' },
      ...bench.rig,
    },
    conditions: { temperatureC: 21, attitude: 'ports down', restS: 28800 },
  }
}
