// The named scenarios: each a change of the good bench, with what an honest test of it must find.
import { pressureUnits } from '../core/model/units.ts'
import type { Expected, Scenario } from './scenario.ts'
import { airOf, contactOf, gaugeOf, meterOf, planOf, switchOf, truthOf, withSecond } from './vary.ts'

type Truth = Scenario['truth']

/** `ratedPa` is the rated point: what is a share of it stays right on any good bench it is made from. */
export type Variation = { title: string; expected: Expected; change: (bench: Scenario, ratedPa: number) => Scenario }

const clipsOf = (bench: Scenario, clips: Truth['wiring']['clips']): Scenario =>
  truthOf(bench, { wiring: { ...bench.truth.wiring, clips } })

/** Trip points, and the hand that has learnt where they are. */
const tripsAt = (bench: Scenario, makePa: number, breakPa: number): Scenario =>
  planOf(switchOf(bench, { makePa, breakPa }), { expectedMakePa: makePa, expectedBreakPa: breakPa })

const onNetwork = (bench: Scenario): Scenario => {
  const { meter } = bench.rig
  return clipsOf(meter ? { ...bench, rig: { ...bench.rig, meter: { ...meter, pair: 'network' } } } : bench, 'network')
}

/** A blockage switch: overpressure opens COM–NC; the manometer shows pressure as a positive number. */
const asBlockage = (bench: Scenario): Scenario => {
  const { manometer, meter } = bench.rig
  const rig = { ...bench.rig }
  if (manometer) rig.manometer = { ...manometer, suctionSign: 1 }
  if (meter) rig.meter = { ...meter, pair: 'com-nc' }
  const part = { ...bench.part, kind: 'blockage' as const, model: 'HL-Blockage 1', serial: '0502' }
  return gaugeOf(clipsOf({ ...bench, part, rig }, 'com-nc'), { suctionSign: 1 })
}

const onFreeMeter = (bench: Scenario): Scenario => {
  const { meter } = bench.rig
  const rig = meter ? { ...bench.rig, meter: { ...meter, driver: 'ascii-line', options: {} } } : bench.rig
  return meterOf({ ...bench, rig }, { freeRunPeriodS: 0.25, query: null, format: 'unit' })
}

const onBridge = (bench: Scenario): Scenario => {
  const { manometer, meter, ...rest } = onFreeMeter(bench).rig
  if (!manometer || !meter) return bench
  const port = { baudRate: 115_200, dataBits: 8 as const, parity: 'none' as const, stopBits: 1 as const }
  return { ...onFreeMeter(bench), rig: { ...rest, bridge: { ...meter, accuracy: null, ...manometer, port } } }
}

/** Fifty lines a second with their own time, behind an adapter that hands over what it has each 16 ms. */
const onBoard = (bench: Scenario): Scenario => {
  const { bridge, ...rest } = onBridge(bench).rig
  if (!bridge) return bench
  const digit = { value: 0.01, unit: 'Pa' as const }
  const rig = { ...rest, bridge: { ...bridge, driver: 'bridge-line', options: { contact: '1' }, digit } }
  const gauge = { linePeriodS: 0.02, deadS: 0.001, dampingS: 0.01, unit: 'Pa' as const, unitText: '', digit: 0.01 }
  const meter = { freeRunPeriodS: null, query: null, delayS: gauge.deadS }
  const links = [{ port: 'bridge' as const, timerS: 0.016, clumps: null, heldBack: false }]
  // A plain input tells no ohms, so that nothing may be asked of them.
  const { contact: _, ...limits } = bench.part
  const whole = truthOf({ ...bench, rig, part: limits }, { board: { skew: 1e-4, startUs: 4.2e9 }, links })
  return meterOf(gaugeOf(whole, gauge), meter)
}

/** 1 200 baud: a line fills most of its period, so that a cable comes off within one. */
const onSlowGauge = (bench: Scenario): Scenario => {
  const { manometer } = bench.rig
  const rig = manometer
    ? { ...bench.rig, manometer: { ...manometer, port: { ...manometer.port, baudRate: 1200 } } }
    : bench.rig
  return gaugeOf({ ...bench, rig }, { linePeriodS: 0.125 })
}

const onCoarseGauge = (bench: Scenario): Scenario => {
  const { manometer } = bench.rig
  if (!manometer) return bench
  const fullScale = { value: 20, unit: 'inH2O' as const }
  const rig = {
    ...bench.rig,
    manometer: {
      ...manometer,
      accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale, distribution: 'rectangular' as const },
      digit: { value: 0.01, unit: 'inH2O' as const },
      zero: { value: 0.01, unit: 'inH2O' as const },
    },
  }
  return gaugeOf({ ...bench, rig }, { digit: 0.01, overRangePa: 20 * pressureUnits.inH2O })
}

const pass = (...findings: string[]): Expected => ({ verdict: 'pass', findings })
const fail = (...findings: string[]): Expected => ({ verdict: 'fail', findings })
const undecided = (...findings: string[]): Expected => ({ verdict: 'undecided', findings })
const avoid = (...findings: string[]): Expected => ({ verdict: 'void', findings })

export const variations: Readonly<Record<string, Variation>> = {
  good: { title: 'A good part on a good bench.', expected: pass(), change: (b) => b },
  'off-high': {
    title: 'The part makes at too much draft.',
    expected: fail('off-rating'),
    change: (b, s) => tripsAt(b, 1.19 * s, 0.95 * s),
  },
  'off-low': {
    title: 'The part makes at too little draft: the unsafe side.',
    expected: fail('off-rating'),
    change: (b, s) => tripsAt(b, 0.8 * s, 0.66 * s),
  },
  'breaks-low': {
    title: 'It makes right, and lets go far too low.',
    expected: fail('breaks-low'),
    change: (b, s) => tripsAt(b, s, 0.45 * s),
  },
  'never-makes': {
    title: 'The diaphragm is torn: nothing moves at any draft of the test.',
    expected: undecided('never-makes'),
    change: (b) => planOf(switchOf(b, { stuck: 'rest' }), { preconditioning: 0, cycles: 1 }),
  },
  'dead-throw': {
    title: 'The switch moves, its normally open contact never conducts; the network tells.',
    expected: fail('never-makes'),
    change: (b) => contactOf(onNetwork(b), { deadThrow: 'no' }),
  },
  'stuck-closed': {
    title: 'The contact is closed at rest and stays so.',
    expected: fail('stuck-closed'),
    change: (b) => planOf(switchOf(b, { stuck: 'actuated' }), { preconditioning: 0, cycles: 1 }),
  },
  'welded-throw': {
    title: 'The normally closed contact is welded: actuated, both conduct; the network tells.',
    expected: fail('both-closed'),
    change: (b) => contactOf(onNetwork(b), { weldedThrow: 'nc' }),
  },
  chatter: {
    title: 'The mechanism cannot decide: several openings at each trip.',
    expected: undecided('chatter'),
    change: (b) => contactOf(b, { chatter: { forS: 3, dwellS: 0.45 } }),
  },
  'dead-break': {
    title: 'On a slow ramp both contacts stay open for a while.',
    expected: fail('dead-break'),
    change: (b) => contactOf(onNetwork(b), { transferS: 1.2 }),
  },
  intermittent: {
    title: 'Held above its make, the contact opens now and then.',
    expected: fail('intermittent'),
    change: (b, s) =>
      // Later than any stroke without a hold lets go, and over before the hold is.
      planOf(contactOf(b, { dropouts: { afterS: 27, everyS: 3, count: 3, forS: 0.7 } }), {
        holdS: 45,
        peakPa: 1.2 * s,
      }),
  },
  'nc-pair': {
    title: 'The leads sit on common and normally closed instead of normally open.',
    expected: avoid('on-nc-pair'),
    change: (b) => clipsOf(b, 'com-nc'),
  },
  'no-common': {
    title: 'No lead sits on the common terminal.',
    expected: avoid('no-common'),
    change: (b) => clipsOf(b, 'no-nc'),
  },
  blockage: { title: 'A good blockage switch.', expected: pass(), change: asBlockage },
  'blockage-high': {
    title: 'A blockage switch that opens at too much pressure: its unsafe side.',
    expected: fail('off-rating'),
    change: (b, s) => tripsAt(asBlockage(b), 1.19 * s, 0.95 * s),
  },
  network: { title: 'A good part on the network of three resistors.', expected: pass(), change: onNetwork },
  'network-lead-off': {
    title: 'A lead of the network meter falls off in the fifth stroke and stays off.',
    expected: undecided('unseen-strokes', 'lead-off'),
    change: (b) => truthOf(onNetwork(b), { leadsOff: [{ stroke: 5, afterS: 4, forS: null }] }),
  },
  'cable-lost': {
    title: 'The manometer cable comes off for 14 seconds, in which the sixth stroke makes.',
    expected: undecided('unseen-strokes'),
    change: (b) => truthOf(b, { cables: [{ port: 'manometer', stroke: 6, afterS: 12, forS: 14, midLine: false }] }),
  },
  'cable-lost-mid-line': {
    title: 'The cable of a slow manometer comes off in the middle of a line and comes back in the middle of another.',
    expected: undecided('unseen-strokes'),
    change: (b) =>
      truthOf(onSlowGauge(b), { cables: [{ port: 'manometer', stroke: 6, afterS: 12, forS: 14.05, midLine: true }] }),
  },
  'cable-lost-aside': {
    title:
      'The manometer cable comes off for two seconds where the sixth stroke begins, and is back before the switch makes.',
    expected: pass(),
    change: (b) => truthOf(b, { cables: [{ port: 'manometer', stroke: 6, afterS: 1, forS: 2, midLine: false }] }),
  },
  'meter-lost': {
    title: 'The meter cable comes off in the fourth stroke and stays off.',
    expected: undecided('unseen-strokes'),
    change: (b) => truthOf(b, { cables: [{ port: 'meter', stroke: 4, afterS: 3, forS: null, midLine: false }] }),
  },
  leaky: {
    title: 'The hose leaks: a third of the draft is lost in a minute.',
    expected: { verdict: 'not-assessed', findings: ['leaks-line'] },
    change: (b) =>
      planOf(airOf({ ...b, purpose: 'leak' }, { leakTauS: 150 }), { leakHoldS: 60, preconditioning: 0, cycles: 0 }),
  },
  'plugged-line': {
    title: 'The hose to the switch is nearly plugged: the trip depends on the rate.',
    expected: undecided('plugged-line'),
    change: (b, s) => planOf(airOf(b, { hoseS: 3 }), { slowPaPerS: [0.013 * s, 0.039 * s], cycles: 8 }),
  },
  'water-in-line': {
    title: 'Water lies in the hose of the manometer.',
    expected: avoid('water-in-line'),
    change: (b, s) => gaugeOf(b, { offsetPa: 0.1 * s }),
  },
  sticky: {
    title: 'The first stroke after rest makes higher, yet inside the limits.',
    expected: undecided('sticky-first-stroke'),
    change: (b, s) => switchOf(b, { firstStrokePa: 0.065 * s }),
  },
  'sticky-outside': {
    title: 'The first stroke after rest makes above the limit.',
    expected: fail('sticky-first-stroke'),
    change: (b, s) => switchOf(b, { firstStrokePa: 0.2 * s }),
  },
  weakening: {
    title: 'The trip points fall from stroke to stroke.',
    expected: undecided('weakening'),
    // The first make starts a little lower, or the fall alone would make it stand out as a sticky one.
    change: (b, s) =>
      planOf(
        switchOf(tripsAt(b, 1.03 * s, 0.78 * s), {
          driftPaPerStroke: -0.0068 * s,
          firstStrokePa: -0.01 * s,
          scatterPa: 0.1,
        }),
        {
          preconditioning: 1,
          cycles: 8,
          slowPaPerS: b.plan.slowPaPerS.slice(0, 1),
        },
      ),
  },
  spread: {
    title: 'Right in the mean, scattered from stroke to stroke.',
    expected: fail('spread'),
    change: (b, s) => switchOf(b, { wanderPa: 0.05 * s, scatterPa: 0.5 }),
  },
  film: {
    title: 'A film on the contact that wears off in the first strokes.',
    expected: fail('contact-film'),
    change: (b) => contactOf(b, { filmOhm: 6, filmClosures: 1.5 }),
  },
  'high-resistance': {
    title: 'The closed contact has too much resistance.',
    expected: fail('high-contact-resistance'),
    change: (b) => contactOf(b, { ohm: 4 }),
  },
  'auto-range': {
    title: 'The meter hunts for its range each time the contact closes.',
    expected: pass('meter-auto-range'),
    change: (b) => meterOf(b, { autoRangeS: { from: 0.9, to: 0.9 } }),
  },
  'free-meter': { title: 'A good part with a meter that sends by itself.', expected: pass(), change: onFreeMeter },
  bridge: { title: 'A good part on one board that is manometer and meter.', expected: pass(), change: onBridge },
  board: {
    title: 'A good part on a board that states its own time, behind an adapter with a timer.',
    expected: pass(),
    change: onBoard,
  },
  'coarse-digit': {
    title: 'A manometer too coarse to decide this part.',
    expected: undecided(),
    change: onCoarseGauge,
  },
  'slow-display': {
    title: 'The display takes two values a second and sends each several times.',
    expected: pass(),
    change: (b) => gaugeOf(b, { linesPerRefresh: Math.round(0.5 / b.truth.manometer.linePeriodS) }),
  },
  'hasty-hand': {
    title: 'The hand goes back and forth near every trip.',
    expected: undecided(),
    change: (b, s) => planOf(b, { reversalPa: 0.08 * s, slowPaPerS: [0.05 * s], unevenness: 0.3 }),
  },
  'jerky-plunger': {
    title: 'The plunger sticks, and slips by about a quarter of a millimetre.',
    expected: undecided('jerky-draw'),
    change: (b) => planOf(b, { slipMm: 0.25 }),
  },
  'no-ballast': {
    title: 'No ballast bottle: the plunger jerks and the kick trips the switch back.',
    expected: { verdict: null, findings: ['chatter'] },
    change: (b) => planOf(airOf(b, { ballastL: 0.05 }), { slipMm: 0.06, unevenness: 0.3 }),
  },
  'zero-moved': {
    title: 'The manometer is knocked in the fifth stroke: its zero has moved.',
    expected: avoid('zero-moved'),
    change: (b, s) => gaugeOf(b, { offsetSteps: [{ stroke: 5, afterS: 1, forS: null, offsetPa: 0.042 * s }] }),
  },
  'frozen-display': {
    title: 'The display does not move for eight seconds of the sixth stroke, and does not say so.',
    expected: avoid('frozen-reading'),
    change: (b) => gaugeOf(b, { holds: [{ stroke: 6, afterS: 3, forS: 8, flag: false }] }),
  },
  'display-held': {
    title: 'The hold key is down for eight seconds of the sixth stroke; the line says so.',
    expected: avoid('frozen-reading'),
    change: (b) => gaugeOf(b, { holds: [{ stroke: 6, afterS: 3, forS: 8, flag: true }] }),
  },
  'unit-changed': {
    title: 'Somebody changes the unit of the manometer in the sixth stroke.',
    expected: avoid('unit-changed'),
    change: (b) =>
      gaugeOf(b, {
        unitChanges: [{ stroke: 6, afterS: 2, forS: null, unit: 'mmH2O', unitText: 'mmH2O', digit: 0.01 }],
      }),
  },
  'two-manometers': {
    title: 'A second manometer at the switch end, which proves the line without fast strokes.',
    expected: { verdict: 'pass', findings: [] },
    change: (b) => planOf(withSecond(b), { briskStrokes: 0 }),
  },
  'line-holds-back': {
    title: 'A plug in the hose that lets nothing through below 4 Pa; a second manometer sits behind it.',
    expected: undecided('plugged-line'),
    change: (b, s) => airOf(withSecond(b), { hoseHoldsPa: 0.065 * s }),
  },
  'manometers-differ': {
    title: 'The second manometer, at the switch end, reads a tenth too high.',
    expected: undecided('manometers-differ'),
    change: (b) => withSecond(b, { gainError: 0.1 }),
  },
  'second-lost': {
    title: 'The cable of the second manometer comes off in the sixth stroke.',
    expected: { verdict: 'pass', findings: ['second-proves-nothing'] },
    change: (b) =>
      truthOf(withSecond(b), {
        cables: [{ port: 'manometer-2', stroke: 6, afterS: 3, forS: null, midLine: false }],
      }),
  },
}
