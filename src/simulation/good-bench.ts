// A good part on a good bench in an invented workshop: what every other scenario is a change of.
import { criteria } from '../core/criteria.table.ts'
import { pressureUnits } from '../core/model/units.ts'
import { strokesOf, usualPlan } from '../core/plan/test-steps.table.ts'
import type { ManometerTruth } from './manometer.ts'
import type { Scenario } from './scenario.ts'

// All sizes below are an invented but likely bench (common practice, no source); what depends on the rated point scales with it.

/** A good draft-proving switch of the rated point given, with a tolerance of 12 % of it; the plan at its full, honest length. */
export function goodBench(ratedInH2O = 0.25): Scenario {
  const ratedPa = ratedInH2O * pressureUnits.inH2O
  const inH2O = (parts: number) => Number((parts * ratedInH2O).toFixed(4))
  return {
    name: 'good',
    title: 'A good part on a good bench.',
    purpose: 'certify',
    part: {
      model: 'HL-Proving 1',
      serial: '0417',
      lot: 'K22',
      condition: 'new',
      kind: 'draft-proving',
      rated: { value: ratedInH2O, unit: 'inH2O', on: 'make' },
      limits: {
        make: { low: inH2O(0.88), high: inH2O(1.12), unit: 'inH2O' },
        break: { low: inH2O(0.6), high: null, unit: 'inH2O' },
        differential: { low: inH2O(0.04), high: inH2O(0.36), unit: 'inH2O' },
      },
      contact: { maxOhm: 2 },
      proof: { value: inH2O(40), unit: 'inH2O' },
    },
    rig: {
      name: 'Hollin Lane workshop, bench 1 (simulated)',
      manometer: {
        driver: 'ascii-line',
        options: { unit: 'inH2O' },
        suctionSign: -1,
        port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
        accuracy: {
          ofReading: 0,
          ofFullScale: 0.0025,
          fullScale: { value: 2, unit: 'inH2O' },
          distribution: 'normal',
          coverage: 2,
        },
        digit: { value: 0.001, unit: 'inH2O' },
        zero: { value: 0.001, unit: 'inH2O' },
        identity: { serial: 'SIM-P1', certificate: 'none: simulated' },
      },
      meter: {
        driver: 'scpi-query',
        options: { command: 'READ?', intervalMs: 200 },
        port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
        pair: 'com-no',
        closedBelowOhm: 10,
        openAboveOhm: 1000,
        leadsOhm: 0.2,
        identity: { serial: 'SIM-R1', certificate: 'none: simulated' },
      },
      decision: { rule: 'guarded', guardFactor: 1 },
    },
    conditions: { temperatureC: 21, attitude: 'ports down', restS: 28_800 },
    plan: {
      zeroS: 11,
      preconditioning: usualPlan.preconditioning,
      cycles: 6,
      restS: 10,
      quickPaPerS: 0.1 * ratedPa,
      slowPaPerS: [1.2, 1.2, 2].map((ratePaPerS) => (ratePaPerS * ratedInH2O) / 0.25),
      briskStrokes: strokesOf('fast-cycles', usualPlan),
      briskFactor: criteria.briskRatio,
      slowFrom: 0.7,
      slowTo: 1.3,
      expectedMakePa: ratedPa,
      expectedBreakPa: 0.76 * ratedPa,
      peakPa: 1.25 * ratedPa,
      giveUpPa: 1.65 * ratedPa,
      lingerS: 1.5,
      peakHoldS: 1,
      holdInPreconditionS: criteria.holdS,
      pinchS: 0,
      holdS: 0,
      ventsFromPeak: [],
      discards: [],
      leakHoldS: 0,
      leakHoldPa: criteria.holdShare * ratedPa,
      unevenness: 0.08,
      pauses: null,
      tripPauses: null,
      paceSpread: 0,
      tremor: null,
      correctsS: null,
      reversalPa: 0,
      slipMm: 0,
    },
    truth: {
      air: {
        // 6.5 L makes the kick of this switch 3 Pa; wire wool in the bottle lets its air take the wall's temperature soon.
        ballastL: 6.5,
        complianceM3PerPa: 1.6e-8,
        floats: { fromBreakShare: 0.5, toMakeShare: 1.1 },
        plungerMm2: 560,
        wallS: 0.1,
        leakTauS: null,
        teeLeakTauS: null,
        switchSeesShare: 1,
        needleTauS: null,
        ventTauS: 0.3,
        hoseS: 0,
        hoseHoldsPa: 0,
        hose: { lengthM: 1, boreMm: 4.8 },
      },
      switch: {
        makePa: ratedPa,
        breakPa: 0.76 * ratedPa,
        scatterPa: 0.3,
        wanderPa: 0,
        firstStrokePa: 0,
        firstBreakPa: 0,
        driftPaPerStroke: 0,
        shifts: [],
        noMakeIn: [],
        stuck: null,
        contact: {
          ohm: 0.3,
          spread: 0.05,
          filmOhm: 0,
          filmClosures: 1,
          risePerClosureOhm: 0,
          poor: null,
          sticksIn: [],
          transferS: 0.004,
          bounce: { forS: 0.003, dwellS: 0.001 },
          chatter: null,
          dropouts: null,
          deadThrow: null,
          weldedThrow: null,
        },
      },
      wiring: { clips: 'com-no', leadsOhm: 0.2 },
      manometer: {
        linePeriodS: 0.1,
        linesPerRefresh: 1,
        jitterS: 0.002,
        deadS: 0.03,
        dampingS: 0.05,
        boxcarS: 0,
        autoZero: null,
        gainError: 0.002,
        offsetPa: 0.2,
        offsetDriftPaPerS: 0,
        hysteresis: null,
        bow: null,
        zeroBump: null,
        offsetSteps: [],
        noisePa: 0.08,
        unit: 'inH2O',
        digit: 0.001,
        unitText: 'inH2O',
        suctionSign: -1,
        overRangePa: 2 * pressureUnits.inH2O,
        holds: [],
        tripHolds: null,
        unitChanges: [],
      },
      atSwitch: null,
      secondAtTee: false,
      meter: {
        freeRunPeriodS: null,
        query: { bytes: 'READ?\n', periodMs: 200, replyMs: 1000 },
        delayS: 0.04,
        integrationS: 0,
        noiseOhm: 0.005,
        rangeOhm: 2000,
        autoRangeS: { from: 0, to: 0 },
        openNoise: null,
        format: 'number',
      },
      board: null,
      cables: [],
      links: [],
      stalls: null,
      leadsOff: [],
    },
    expected: { verdict: 'pass', findings: [] },
  }
}

/** The same scenario with short rests, a narrow trip region and fewer lines a second: for recordings that must stay small. */
export function shortened(scenario: Scenario): Scenario {
  const { plan, truth, rig } = scenario
  const query = truth.meter.query && { ...truth.meter.query, periodMs: Math.max(truth.meter.query.periodMs, 300) }
  const meter =
    rig.meter && query ? { ...rig.meter, options: { ...rig.meter.options, intervalMs: query.periodMs } } : rig.meter
  return {
    ...scenario,
    rig: meter ? { ...rig, meter } : rig,
    plan: {
      ...plan,
      zeroS: 7,
      restS: 2,
      preconditioning: Math.min(plan.preconditioning, 1),
      quickPaPerS: 1.5 * plan.quickPaPerS,
      slowFrom: Math.max(plan.slowFrom, 0.94),
      slowTo: Math.min(plan.slowTo, 1.1),
      peakHoldS: Math.min(plan.peakHoldS, 0.5),
    },
    truth: {
      ...truth,
      manometer: withFewerLines(truth.manometer),
      atSwitch: truth.atSwitch && withFewerLines(truth.atSwitch),
      meter: { ...truth.meter, query },
    },
  }
}

function withFewerLines(manometer: ManometerTruth): ManometerTruth {
  const linePeriodS = Math.max(manometer.linePeriodS, 0.2)
  const refreshS = manometer.linePeriodS * manometer.linesPerRefresh
  return { ...manometer, linePeriodS, linesPerRefresh: Math.max(1, Math.round(refreshS / linePeriodS)) }
}
