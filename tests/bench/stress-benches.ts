// A set of instruments, a cell and a seed into a fair bench whose part has its truth where the cell wants it.
import { pressureUnits } from '../../src/core/model/units.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createRandom, type Random } from '../../src/simulation/random.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'

export const cells = ['out-2', 'out-1', 'out-0.5', 'limit', 'good'] as const
/** How many U_ref outside a limit the truth is; exactly at it; or at least 2 U_ref inside every limit. */
export type Cell = (typeof cells)[number]

export const quantities = ['make', 'break', 'differential'] as const
export type Quantity = (typeof quantities)[number]

/** U of a sound bench with the same instruments, Pa. */
export type ReferenceU = Record<Quantity, number>

/** Which limit a row is put to, and on which side; `both`: low in one half of the sessions, high in the other. */
export type Judged = { quantity: Quantity; side: 'low' | 'high' | 'both' }

export const instrumentSets = ['usual', 'fine', 'slow', 'free-meter', 'network', 'certified'] as const
export type Instruments = (typeof instrumentSets)[number]

const inH2O = pressureUnits.inH2O

/** Limits of error of each manometer with a coverage of 2, Pa: its own error is drawn from it. */
export const gaugeLimitPa: Record<Instruments, number> = {
  usual: 0.0025 * 2 * inH2O,
  fine: 0.0005 * 2 * inH2O,
  slow: 0.0025 * 2 * inH2O,
  'free-meter': 0.0025 * 2 * inH2O,
  network: 0.0025 * 2 * inH2O,
  // What its certificate leaves: the row about it adds what is between the points.
  certified: 0.001 * inH2O,
}

/** What a rig states of its manometer: this share of those limits may differ between rise and fall. The true one lies within it. */
const hysteresisShare = 0.2

/** The bench whose rig states that up to so much of its manometer's limits differs between rise and fall, Pa; null: nothing. */
export function statingHysteresis(bench: Scenario, mostPa: number | null): Scenario {
  const { manometer } = bench.rig
  const { ofFullScale, fullScale } = manometer!.accuracy!
  const hysteresis = mostPa === null ? null : mostPa / (ofFullScale * fullScale.value * inH2O)
  return {
    ...bench,
    rig: { ...bench.rig, manometer: { ...manometer!, accuracy: { ...manometer!.accuracy!, hysteresis } } },
  }
}

/** The loop is widest in the middle of this, Pa: about where the trips are. */
export const loopSpanPa = 90

/** The course of a guided test: first stroke, a preconditioning stroke with its hold, five slow cycles, two brisk ones. */
function course(bench: Scenario): Scenario {
  return {
    ...bench,
    plan: { ...bench.plan, preconditioning: 1, cycles: 5, restS: 4, slowPaPerS: [1.2], slowFrom: 0.85, slowTo: 1.12 },
  }
}

function withInstruments(bench: Scenario, set: Instruments): Scenario {
  const { rig, truth } = bench
  const { manometer, meter } = rig
  if (!manometer || !meter || !truth.meter.query) throw new Error('the good bench has a manometer and a queried meter')
  if (set === 'fine')
    return {
      ...bench,
      rig: {
        ...rig,
        manometer: {
          ...manometer,
          accuracy: { ...manometer.accuracy!, ofFullScale: 0.0005 },
          digit: { value: 0.0001, unit: 'inH2O' },
          zero: { value: 0.0002, unit: 'inH2O' },
        },
      },
      truth: { ...truth, manometer: { ...truth.manometer, digit: 0.0001, noisePa: 0.03, offsetPa: 0.05 } },
    }
  if (set === 'slow')
    return {
      ...bench,
      rig: { ...rig, meter: { ...meter, options: { command: 'READ?', intervalMs: 500 } } },
      truth: {
        ...truth,
        manometer: { ...truth.manometer, linesPerRefresh: 4, dampingS: 0.2, deadS: 0.12 },
        meter: { ...truth.meter, delayS: 0.15, integrationS: 0.1, query: { ...truth.meter.query, periodMs: 500 } },
      },
    }
  if (set === 'free-meter')
    return {
      ...bench,
      rig: { ...rig, meter: { ...meter, driver: 'ascii-line', options: {} } },
      truth: { ...truth, meter: { ...truth.meter, freeRunPeriodS: 0.25, query: null, format: 'unit' } },
    }
  if (set === 'network')
    return {
      ...bench,
      rig: { ...rig, meter: { ...meter, pair: 'network' } },
      truth: { ...truth, wiring: { ...truth.wiring, clips: 'network' } },
    }
  if (set === 'certified') {
    const point = (reading: number) => ({ reading, correction: 0, U: 0.001 })
    // 3 Pa by its data sheet; the certificate knows its two ends only.
    const accuracy = { ...manometer.accuracy!, ofFullScale: 3 / (2 * inH2O), distribution: 'rectangular' as const }
    const calibration = { unit: 'inH2O' as const, coverage: 2, drift: 0.0005, points: [point(0), point(-0.5)] }
    return { ...bench, rig: { ...rig, manometer: { ...manometer, accuracy, calibration } } }
  }
  return bench
}

/** Make and break for a cell. The other limits are kept well clear of, so that one alone decides. */
function trips(cell: Cell, { quantity, side }: Judged, U: ReferenceU, random: Random, odd: boolean) {
  const limits = { makeLow: 0.22 * inH2O, makeHigh: 0.28 * inH2O, breakLow: 0.15 * inH2O, highD: 0.09 * inH2O }
  if (cell === 'good') {
    const makePa = random.between(limits.makeLow + 2 * U.make, limits.makeHigh - 2 * U.make)
    const mostPa = Math.min(limits.highD - 2 * U.differential, makePa - limits.breakLow - 2 * U.break)
    return { makePa, breakPa: makePa - random.between(Math.min(9, 0.9 * mostPa), Math.min(15, mostPa)) }
  }
  const outward = cell === 'limit' ? 0 : Number(cell.slice('out-'.length)) * U[quantity]
  if (quantity === 'differential') return { makePa: 64, breakPa: 64 - limits.highD - outward }
  if (quantity === 'break') return { makePa: 60, breakPa: limits.breakLow - outward }
  const low = side === 'low' || (side === 'both' && odd)
  const makePa = low ? limits.makeLow - outward : limits.makeHigh + outward
  return { makePa, breakPa: makePa - 12 }
}

/** The fair bench that a row changes; the same seed gives the same bench. */
export function fairBench(set: Instruments, cell: Cell, judged: Judged, U: ReferenceU, seed: number): Scenario {
  const random = createRandom(seed).fork(`${set} ${cell}`)
  const hysteresisPa = hysteresisShare * gaugeLimitPa[set]
  const bench = statingHysteresis(withInstruments(course(goodBench()), set), hysteresisPa)
  const { makePa, breakPa } = trips(cell, judged, U, random, seed % 2 === 1)
  const { truth, plan, part } = bench
  const gaugePa = random.normal(gaugeLimitPa[set] / 2)
  // An accuracy is used up by a gain, or by a bend that make and break share.
  const bends = random.fork('shape').uniform() < 0.5
  // Of the same coverage as the limits, and never more than what is stated.
  const loopPa = Math.min(hysteresisPa, Math.abs(random.fork('hysteresis').normal(hysteresisPa / 2)))
  // With the break at its limit and the make well inside, the differential is large: it has no limits there.
  const limits = judged.quantity === 'break' ? { ...part.limits, differential: null } : part.limits
  return {
    ...bench,
    part: { ...part, limits },
    plan: {
      ...plan,
      expectedMakePa: makePa,
      expectedBreakPa: breakPa,
      peakPa: Math.max(plan.peakPa, 1.2 * makePa),
      unevenness: random.between(0.04, 0.12),
    },
    truth: {
      ...truth,
      air: {
        ...truth.air,
        ballastL: random.between(4, 10),
        wallS: random.between(0.05, 0.15),
        hose: { lengthM: random.between(0.4, 1.2), boreMm: 4.8 },
      },
      switch: { ...truth.switch, makePa, breakPa, scatterPa: random.between(0.1, 0.35) },
      manometer: {
        ...truth.manometer,
        // What is stated is a share of full scale: drawn for the make, where the most is asked of it.
        gainError: bends ? 0 : gaugePa / makePa,
        bow: bends ? { heightPa: gaugePa, fromPa: 0, toPa: loopSpanPa } : null,
        hysteresis: { halfPa: loopPa, spanPa: loopSpanPa },
        // The zero lies anywhere within a digit.
        offsetPa: truth.manometer.offsetPa + (random.uniform() - 0.5) * truth.manometer.digit * inH2O,
        deadS: truth.manometer.deadS + random.between(0, 0.03),
        dampingS: truth.manometer.dampingS + random.between(0, 0.05),
      },
      meter: { ...truth.meter, delayS: truth.meter.delayS + random.between(0, 0.05) },
    },
  }
}
