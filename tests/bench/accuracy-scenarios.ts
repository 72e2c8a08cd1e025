// The benches of the accuracy benchmark: the good bench of the simulation, changed to the sizes each bar is stated for.
import { pressureUnits } from '../../src/core/model/units.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'

type Sizes = {
  ratePaPerS: number[]
  unevenness: number
  pressurePeriodS: number
  deadS: number
  dampingS: number
  meterPeriodS: number
  meterDelayS: number
  /** Kick as a share of the differential. */
  kickShare: number
  digitInH2O: number
  network?: boolean
  autoRangeS?: number
}

/** Bars for the RMS error of makebreak, make and break pooled, Pa; null where only honesty is asked. */
export type Bars = { toldPa: number; untoldPa: number; timesBetterThanScript: number | null } | null

export type AccuracyScenario = { name: string; bars: Bars; bench: Scenario }

const quiet: Sizes = {
  ratePaPerS: [1.2],
  unevenness: 0.05,
  pressurePeriodS: 0.1,
  deadS: 0,
  dampingS: 0,
  meterPeriodS: 0.2,
  meterDelayS: 0,
  kickShare: 0.2,
  digitInH2O: 0.001,
}

/** `kickShare` = Cd/(Cd + V/P0) solved for the volume V (kick = D·Cd/(Cd + V/P0), ideal gas law). */
function ballastL(kickShare: number, complianceM3PerPa: number): number {
  return (1 / kickShare - 1) * complianceM3PerPa * 101_325 * 1000
}

function benchOf(name: string, sizes: Sizes): Scenario {
  const good = goodBench()
  const { truth, plan, rig } = good
  const { manometer, meter } = rig
  if (!manometer || !meter) throw new Error('the good bench has a manometer and a meter')
  return {
    ...good,
    name,
    rig: {
      ...rig,
      // The simulated manometer shows rise and fall alike.
      manometer: {
        ...manometer,
        accuracy: { ...manometer.accuracy!, hysteresis: 0 },
        digit: { value: sizes.digitInH2O, unit: 'inH2O' },
      },
      meter: { ...meter, pair: sizes.network ? 'network' : 'com-no' },
    },
    plan: {
      ...plan,
      // Rests long enough for a zero; nothing else depends on them here.
      zeroS: 11,
      restS: 2,
      preconditioning: 0,
      cycles: 6,
      briskStrokes: 0,
      slowPaPerS: sizes.ratePaPerS,
      unevenness: sizes.unevenness,
    },
    truth: {
      ...truth,
      // The bars are stated for a kick that stays and a hose that hides nothing.
      air: {
        ...truth.air,
        ballastL: ballastL(sizes.kickShare, truth.air.complianceM3PerPa),
        wallS: 0,
        hose: { lengthM: 0.1, boreMm: 6 },
      },
      wiring: { ...truth.wiring, clips: sizes.network ? 'network' : 'com-no' },
      manometer: {
        ...truth.manometer,
        linePeriodS: sizes.pressurePeriodS,
        deadS: sizes.deadS,
        dampingS: sizes.dampingS,
        digit: sizes.digitInH2O,
        gainError: 0,
        offsetPa: 0,
        noisePa: 0.08,
      },
      meter: {
        ...truth.meter,
        delayS: sizes.meterDelayS,
        autoRangeS: { from: sizes.autoRangeS ?? 0, to: sizes.autoRangeS ?? 0 },
        query: { bytes: 'READ?\n', periodMs: 1000 * sizes.meterPeriodS, replyMs: 3000 },
      },
    },
  }
}

const scenario = (bars: Bars, bench: Scenario): AccuracyScenario => ({ name: bench.name, bars, bench })

export const accuracyScenarios: readonly AccuracyScenario[] = [
  scenario({ toldPa: 0.17, untoldPa: 0.2, timesBetterThanScript: 5 }, benchOf('quiet', quiet)),
  scenario(
    { toldPa: 0.22, untoldPa: 0.4, timesBetterThanScript: null },
    benchOf('slow-display', {
      ...quiet,
      ratePaPerS: [0.8],
      pressurePeriodS: 0.4,
      deadS: 0.15,
      dampingS: 0.3,
      meterPeriodS: 0.5,
      meterDelayS: 0.2,
    }),
  ),
  scenario(
    { toldPa: 0.4, untoldPa: 0.7, timesBetterThanScript: null },
    benchOf('hasty-hand', { ...quiet, ratePaPerS: [5], unevenness: 0.3, pressurePeriodS: 0.2, meterPeriodS: 0.25 }),
  ),
  scenario(
    { toldPa: 0.18, untoldPa: 0.22, timesBetterThanScript: 5 },
    benchOf('no-ballast', { ...quiet, kickShare: 0.8 }),
  ),
  scenario(null, benchOf('coarse-digit', { ...quiet, digitInH2O: 0.01 })),
  scenario(null, benchOf('network', { ...quiet, network: true })),
  scenario(null, benchOf('auto-range', { ...quiet, autoRangeS: 0.9 })),
]

/** The bench of one simulated part: its zero stands anywhere within a digit (`zeroShare` from −½ to ½). */
export function partOf(bench: Scenario, zeroShare: number): Scenario {
  const { manometer } = bench.truth
  const offsetPa = zeroShare * manometer.digit * pressureUnits.inH2O
  return { ...bench, truth: { ...bench.truth, manometer: { ...manometer, offsetPa } } }
}

/** Standard uncertainty of the good bench's gauge, Pa. */
export const gaugeU = (0.0025 * 2 * pressureUnits.inH2O) / 2
