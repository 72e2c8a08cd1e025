// The rows of the stress bench: what is the matter with each bench, and what may be said of it.
import type { Verdict } from '../../src/core/model/result.ts'
import { pressureUnits } from '../../src/core/model/units.ts'
import type { Random } from '../../src/simulation/random.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { airOf, contactOf, gaugeOf, meterOf, planOf, switchOf, truthOf, withSecond } from '../../src/simulation/vary.ts'
import { gaugeLimitPa, type Instruments, type Judged, loopSpanPa, statingHysteresis } from './stress-benches.ts'

type Truth = Scenario['truth']

export type StressRow = {
  name: string
  sentence: string
  instruments: Instruments
  judged: Judged
  /** `none`: a sound bench. `bench`: the values may be wrong. `part`, `file`: no session may pass, whatever its values. */
  fault: 'none' | 'bench' | 'part' | 'file'
  /** Besides right values: these verdicts, with at least one of these names beside them (finding codes, or `limit:NAME` not passed). */
  maySay: { verdicts: readonly Verdict[]; causes: readonly string[] }
  /** What the rig leaves unstated, or its display does not show, a test pays for: its U may be wide, and has to hold the truth. */
  mayBeWide?: true
  change: (bench: Scenario, random: Random, instruments: Instruments) => Scenario
}

const linkOf = (bench: Scenario, link: Partial<Truth['links'][number]> & Pick<Truth['links'][number], 'port'>) =>
  truthOf(bench, { links: [...bench.truth.links, { timerS: 0.016, clumps: null, heldBack: false, ...link }] })

/** Strokes of the course: 1 first, 2 preconditioning, 3 to 9 counted. */
const counted = [3, 4, 5, 6, 7] as const
const strokesOf = ({ plan }: Scenario) => 1 + plan.preconditioning + plan.cycles + plan.briskStrokes

/** One of the two cables comes off in a stroke, some seconds after it began, and comes back. */
const cableOff = (bench: Scenario, random: Random, stroke: number, after: [number, number], lasts: [number, number]) =>
  truthOf(bench, {
    cables: [
      {
        port: random.pick(['manometer', 'meter'] as const),
        stroke,
        afterS: random.between(...after),
        forS: random.between(...lasts),
        midLine: false,
      },
    ],
  })

/** A steady hand that knows one pace only. */
const onePace = (bench: Scenario) => planOf(bench, { briskStrokes: 0, cycles: 7, unevenness: 0.03 })

/** Air and hand that make the kick of this size, by the bottle: K = D · Cd / (Cd + V / P0). */
const withKick = (bench: Scenario, random: Random): Scenario => {
  const { makePa, breakPa } = bench.truth.switch
  const share = Math.min(0.8, random.between(1, 12) / (makePa - breakPa))
  const volumeM3 = (1 / share - 1) * bench.truth.air.complianceM3PerPa * 101_325
  return airOf(bench, { ballastL: volumeM3 * 1000 })
}
const relaxS = [0.3, 0.5, 1, 3, null] as const

const noKick = { complianceM3PerPa: 1e-10 }

/** A second manometer at the switch end, as good as the first, with errors of its own. */
const twoGauges = (bench: Scenario, random: Random, instruments: Instruments): Scenario => {
  const errorPa = random.normal(gaugeLimitPa[instruments] / 2)
  const { hysteresis } = bench.truth.manometer
  return withSecond(bench, {
    gainError: errorPa / bench.truth.switch.makePa,
    bow: null,
    hysteresis: hysteresis && { ...hysteresis, halfPa: random.between(0, hysteresis.halfPa) },
    dampingS: random.between(0.02, 0.15),
    deadS: random.between(0.01, 0.1),
    linePeriodS: random.between(0.08, 0.15),
  })
}

const make = (side: Judged['side']): Judged => ({ quantity: 'make', side })
const nothing = { verdicts: ['undecided', 'void'] as const, causes: [] }
const undecided = (...causes: string[]) => ({ verdicts: ['undecided', 'void'] as const, causes })
const notPassed = (...causes: string[]) => ({ verdicts: ['undecided', 'void', 'fail'] as const, causes })
const hoseCauses = ['lag-not-proved', 'plugged-line', 'lag-conflict']
const leakCauses = ['line-not-proved', 'leaks-line', 'leaks-diaphragm', 'lag-not-proved']

// A display so slow has not come to rest when the next stroke begins.
const slowCauses = ['slow-display', 'lag-not-proved', 'zero-moved']

type Sizes = Partial<Pick<StressRow, 'instruments' | 'judged'>>
const row =
  (fault: StressRow['fault']) =>
  (
    name: string,
    sentence: string,
    maySay: StressRow['maySay'],
    change: StressRow['change'],
    { instruments = 'usual', judged = make('both') }: Sizes = {},
  ): StressRow => ({ name, sentence, instruments, judged, fault, maySay, change })
const sound = (name: string, sentence: string, change: StressRow['change'], sizes?: Sizes) =>
  row('none')(name, sentence, nothing, change, sizes)
const unsound = row('bench')
const faulty = row('part')

/** The same row with a manometer whose small U hides nothing. */
const alsoFine = (rows: StressRow): StressRow[] => [
  rows,
  { ...rows, name: `${rows.name}-fine`, sentence: `${rows.sentence} A fine manometer.`, instruments: 'fine' },
]

const fair = (bench: Scenario) => bench

/** All that the manometer may be wrong by goes into what differs between rise and fall; the rig states it. */
const wholeLoop: StressRow['change'] = (bench, random, set) => {
  const halfPa = random.between(0, gaugeLimitPa[set])
  const loop = gaugeOf(bench, { gainError: 0, bow: null, hysteresis: { halfPa, spanPa: loopSpanPa } })
  return statingHysteresis(loop, gaugeLimitPa[set])
}

export const stressRows: readonly StressRow[] = [
  sound('good', 'A fair bench with the usual instruments.', fair),
  sound('good-break', 'The same, held against the low limit of the break.', fair, {
    judged: { quantity: 'break', side: 'low' },
  }),
  sound('good-differential', 'The same, held against the high limit of the differential.', fair, {
    judged: { quantity: 'differential', side: 'high' },
  }),
  sound('good-fine', 'A fair bench with a fine manometer.', fair, { instruments: 'fine' }),
  {
    ...sound('good-slow', 'A display of two and a half values a second, two contact readings a second.', fair, {
      instruments: 'slow',
    }),
    // How such a display answers a kick is not known better than a fifth of its damping.
    mayBeWide: true,
  },
  sound('good-free-meter', 'A meter that sends by itself, four times a second.', fair, { instruments: 'free-meter' }),
  sound('good-network', 'The network of three resistors.', fair, { instruments: 'network' }),
  sound('quick-vent', 'In one counted stroke the hand vents from the peak.', (b, r) =>
    planOf(b, { ventsFromPeak: [r.pick(counted)] }),
  ),
  ...alsoFine(
    sound('damping', 'The manometer is damped by 0.35 to 0.7 s.', (b, r) =>
      gaugeOf(b, { dampingS: r.between(0.35, 0.7) }),
    ),
  ),
  ...alsoFine(
    sound(
      'kick-warms',
      'The kick relaxes as the air takes the temperature of a bare bottle, in 0.3 s to never.',
      (b, r) => airOf(withKick(b, r), { wallS: r.pick(relaxS) ?? 1e6 }),
    ),
  ),
  sound('kick-needle', 'A needle vent takes the kick back, in 0.3 s to never.', (b, r) =>
    airOf(withKick(b, r), { needleTauS: r.pick(relaxS) }),
  ),
  sound('kick-hand', 'The hand draws back what the kick took, in 0.3 s to never.', (b, r) =>
    planOf(withKick(b, r), { correctsS: r.pick(relaxS) }),
  ),
  ...alsoFine(
    sound(
      'hysteresis',
      'The manometer differs between rise and fall by up to its whole accuracy, as the rig states.',
      wholeLoop,
      {
        judged: { quantity: 'differential', side: 'high' },
      },
    ),
  ),
  ...alsoFine({
    ...sound(
      'hysteresis-unstated',
      'The same, and the rig does not state it: what is not known makes U wide.',
      (b, r, set) => statingHysteresis(wholeLoop(b, r, set), null),
      { judged: { quantity: 'differential', side: 'high' } },
    ),
    mayBeWide: true,
  }),

  ...alsoFine(
    unsound(
      'hose-steady',
      'A hose of 1 s, a kick, and a steady hand of one pace.',
      undecided(...hoseCauses),
      (b) => airOf(onePace(b), { hoseS: 1 }),
      { judged: make('low') },
    ),
  ),
  ...alsoFine(
    unsound(
      'hose-paces',
      'A hose of 0.4 s, paces 30 % apart.',
      undecided(...hoseCauses),
      (b) => airOf(planOf(onePace(b), { paceSpread: 0.3 }), { hoseS: 0.4 }),
      { judged: make('low') },
    ),
  ),
  ...alsoFine(
    unsound(
      'hose-quick',
      'A hose of 2.5 s on a bottle of 2 litre, all strokes at 3 Pa/s: the kick bends the ramp slowly, and the rates at the trips seem to differ.',
      // The break comes so late that the hand has opened the vent.
      undecided(...hoseCauses, 'stroke:too-fast'),
      (b) => airOf(planOf(onePace(b), { slowPaPerS: [3] }), { hoseS: 2.5, ballastL: 2 }),
      { judged: make('low') },
    ),
  ),
  ...alsoFine(
    unsound(
      'hose-late-pace',
      'A hose of 2.5 s, and a hand that slows to its pace about three seconds before the make: the paces differ there and not before.',
      undecided(...hoseCauses),
      (b) => {
        // From 0.7 × 1.43 of the make on; down to 0.7 of the break, which comes so late.
        const expectedMakePa = 1.43 * b.truth.switch.makePa
        return airOf(planOf(b, { quickPaPerS: 3, slowFrom: 0.7, expectedMakePa }), { hoseS: 2.5 })
      },
      { judged: make('low') },
    ),
  ),
  sound(
    'kick-strong',
    'A differential of 0.07 inH2O on a bottle of 2 litre: a kick of a fifth of the make within 0.2 s.',
    (b) => {
      const breakPa = b.truth.switch.makePa - 0.07 * pressureUnits.inH2O
      return planOf(airOf(switchOf(b, { breakPa }), { ballastL: 2 }), { expectedBreakPa: breakPa })
    },
  ),
  ...alsoFine(
    unsound(
      'boxcar',
      'The manometer averages over 1 to 2 s, and there is no kick.',
      undecided(...hoseCauses),
      (b, r) => airOf(gaugeOf(b, { boxcarS: r.between(1, 2) }), noKick),
      { judged: make('high') },
    ),
  ),
  ...alsoFine(
    unsound(
      'boxcar-damped',
      'The manometer averages over 1 s behind a damping of 1 s, and a bottle of 100 litre hides the kick.',
      // Such a display has not come to rest when the next stroke begins.
      undecided(...hoseCauses, 'zero-moved'),
      (b) => airOf(gaugeOf(b, { boxcarS: 1, dampingS: 1 }), { ballastL: 100 }),
      { judged: make('high') },
    ),
  ),
  ...alsoFine(
    unsound(
      'damped-one-pace',
      'The manometer is damped with 1.5 to 3 s, the kick fades, and the hand knows one pace.',
      undecided(...slowCauses),
      (b, r) => airOf(gaugeOf(onePace(b), { dampingS: r.between(1.5, 3) }), { wallS: r.between(0.5, 2) }),
      { judged: make('high') },
    ),
  ),
  unsound(
    'boxcar-one-pace-fine',
    'The manometer averages over 1.5 to 2 s, the kick fades, and the hand knows one pace.',
    undecided(...slowCauses),
    (b, r) => airOf(gaugeOf(onePace(b), { boxcarS: r.between(1.5, 2) }), { wallS: r.between(0.5, 2) }),
    { instruments: 'fine', judged: make('high') },
  ),
  unsound(
    'two-damped-first-fine',
    'The first manometer is damped with 2 s, the second at the switch is right; one pace and no hold.',
    undecided(...slowCauses, 'manometers-differ', ...leakCauses),
    (b, r) =>
      gaugeOf(twoGauges(planOf(onePace(b), { holdInPreconditionS: 0, peakHoldS: 0.3 }), r, 'fine'), { dampingS: 2 }),
    { instruments: 'fine', judged: make('high') },
  ),
  ...alsoFine(
    unsound(
      'diaphragm-leak',
      'The switch sees 94 % of the tee, through a hose of 0.3 s; the hold is left out.',
      undecided(...leakCauses),
      (b) => airOf(planOf(b, { holdInPreconditionS: 0, peakHoldS: 0.3 }), { hoseS: 0.3, switchSeesShare: 0.94 }),
      { judged: make('low') },
    ),
  ),
  ...(['usual', 'fine'] as const).flatMap((instruments) => [
    // What the second claims itself stays open, so that a part near a limit is left undecided: no row of a sound bench.
    unsound(
      instruments === 'usual' ? 'two-gauges' : 'two-gauges-fine',
      'A second manometer at the switch end; one pace and no hold.',
      undecided(...hoseCauses, ...leakCauses),
      (b, r) => twoGauges(planOf(onePace(b), { holdInPreconditionS: 0, peakHoldS: 0.3 }), r, instruments),
      { instruments },
    ),
    unsound(
      instruments === 'usual' ? 'plug-yields' : 'plug-yields-fine',
      'A plug lets nothing through below 1 to 4 Pa, which no pace shows; a second manometer sits behind it.',
      undecided('plugged-line', 'manometers-differ', ...hoseCauses),
      (b, r) => airOf(twoGauges(b, r, instruments), { hoseHoldsPa: r.between(1, 4) }),
      { instruments },
    ),
  ]),
  unsound(
    'two-gauges-leak',
    'The switch sees 94 % of the tee; a second manometer sits there, and the hold is left out.',
    undecided('manometers-differ', ...leakCauses),
    (b, r) =>
      airOf(planOf(twoGauges(b, r, 'usual'), { holdInPreconditionS: 0, peakHoldS: 0.3 }), { switchSeesShare: 0.94 }),
    { judged: make('low') },
  ),
  unsound(
    'second-at-tee',
    'The switch sees 94 % of the tee; the second manometer was put on the tee, and the hold is left out.',
    undecided('second-proves-nothing', ...leakCauses),
    (b, r) =>
      truthOf(
        airOf(planOf(twoGauges(b, r, 'usual'), { holdInPreconditionS: 0, peakHoldS: 0.3 }), { switchSeesShare: 0.94 }),
        { secondAtTee: true },
      ),
    { judged: make('low') },
  ),
  unsound(
    'certificate-bow',
    'A certificate of two points, and a bow of up to 3 Pa between them.',
    undecided('outside-certificate', 'certificate-points'),
    (b, r) =>
      gaugeOf(b, {
        gainError: 0,
        bow: { heightPa: r.between(-3, 3), fromPa: 0, toPa: 0.5 * pressureUnits.inH2O },
      }),
    { instruments: 'certified' },
  ),
  unsound(
    'display-held',
    'In half of the trips the display freezes for 1.5 to 2.5 s.',
    undecided('frozen-reading'),
    (b) => gaugeOf(b, { tripHolds: { share: 0.5, fromS: 1.5, toS: 2.5 } }),
  ),
  unsound(
    'zero-bump',
    'At each vent the zero jumps by up to 2 Pa, and comes back in 2 to 6 s.',
    undecided('zero-moved'),
    (b, r) => gaugeOf(b, { zeroBump: { offsetPa: r.between(-2, 2), tauS: r.between(2, 6) } }),
  ),
  unsound(
    'jerky',
    'The plunger sticks and slips by 0.1 to 0.3 mm.',
    undecided('jerky-draw', 'chatter', 'spread', 'plugged-line'),
    (b, r) => planOf(b, { slipMm: r.between(0.1, 0.3) }),
  ),
  unsound(
    'pauses',
    'In half of the trips the hand pauses for 1 to 3 s, and it trembles by a hundredth of a millimetre.',
    undecided('spread'),
    (b) => planOf(b, { tripPauses: { share: 0.5, fromS: 1, toS: 3 }, tremor: { hz: 8, amplitudeMm: 0.01 } }),
  ),
  unsound('clumps', 'All lines come in clumps, about each half second.', undecided('clumped-readings'), (b) =>
    (['manometer', 'meter'] as const).reduce(
      (bench, port) => linkOf(bench, { port, clumps: { everyS: 0.5, jitterS: 0.1 } }),
      b,
    ),
  ),
  unsound(
    'loaded-machine',
    'The machine stalls for 0.3 to 1.5 s, each eight seconds or so.',
    undecided('clumped-readings'),
    (b) => truthOf(b, { stalls: { everyS: 8, fromS: 0.3, toS: 1.5 } }),
  ),
  unsound(
    'held-back',
    'A line of the meter is only seen when the next one arrives.',
    undecided('clumped-readings', ...hoseCauses),
    (b) => linkOf(b, { port: 'meter', heldBack: true }),
    { instruments: 'free-meter' },
  ),
  unsound(
    'auto-zero',
    'The manometer zeroes itself each 20 s, and sends nothing for 0.7 s.',
    undecided('zero-moved'),
    (b) => gaugeOf(b, { autoZero: { everyS: 20, forS: 0.7, stepPa: 0.1 } }),
  ),
  unsound(
    'open-noise',
    'Open leads show some value now and then, and the meter averages over 0.2 s.',
    undecided('chatter'),
    (b) => meterOf(b, { openNoise: { share: 0.1, fromOhm: 2500 }, integrationS: 0.2 }),
  ),
  unsound('hunt', 'The meter hunts for its range, 0.3 to 2 s at each closing.', undecided('meter-auto-range'), (b) =>
    meterOf(b, { autoRangeS: { from: 0.3, to: 2 } }),
  ),
  ...alsoFine(
    unsound(
      'hunt-no-kick',
      'A bottle of 100 litre hides the kick, and the meter hunts for 0.8 s at each closing, while the hand quickens past the make.',
      undecided('meter-auto-range', ...hoseCauses),
      (b) => airOf(meterOf(b, { autoRangeS: { from: 0.8, to: 0.8 } }), { ballastL: 100 }),
      { judged: make('low') },
    ),
  ),
  unsound('hunt-off-rating', 'It hunts for 0.9 s at each closing.', notPassed('meter-auto-range', 'off-rating'), (b) =>
    meterOf(b, { autoRangeS: { from: 0.9, to: 0.9 } }),
  ),

  faulty(
    'hunt-spread',
    'The meter hunts for 0.9 s, and the make scatters by 3 Pa.',
    notPassed('spread', 'sticky-first-stroke', 'sticky-first-break'),
    (b) => switchOf(meterOf(b, { autoRangeS: { from: 0.9, to: 0.9 } }), { wanderPa: 3, scatterPa: 0.5 }),
  ),
  faulty(
    'hunt-weakening',
    'The meter hunts for 0.9 s, and both points fall by half a pascal a stroke.',
    notPassed('weakening', 'sticky-first-stroke', 'sticky-first-break'),
    (b) => switchOf(meterOf(b, { autoRangeS: { from: 0.9, to: 0.9 } }), { driftPaPerStroke: -0.5, scatterPa: 0.1 }),
  ),
  faulty(
    'no-make',
    'It does not make in one counted stroke of eight, drawn to 1.3 times the make.',
    notPassed('did-not-make', 'never-makes', 'intermittent'),
    (b, r) => switchOf(planOf(b, { giveUpPa: 1.3 * b.truth.switch.makePa }), { noMakeIn: [r.pick(counted)] }),
  ),
  faulty(
    'no-make-near',
    'It does not make in one stroke, drawn to 1.1 times the make: beyond all others, and within the limit.',
    notPassed('did-not-make', 'never-makes', 'intermittent'),
    (b, r) =>
      switchOf(planOf(b, { giveUpPa: 1.1 * b.truth.switch.makePa }), { noMakeIn: [r.pick([1, 2, ...counted])] }),
  ),
  faulty(
    'no-make-precondition',
    'It does not make in a preconditioning stroke.',
    notPassed('did-not-make', 'never-makes', 'intermittent'),
    (b) => switchOf(planOf(b, { giveUpPa: 1.3 * b.truth.switch.makePa }), { noMakeIn: [2] }),
  ),
  faulty(
    'stays-closed',
    'In one stroke the contact stays closed through the whole vent, which lasts 1.5 to 5 s.',
    notPassed('stayed-made', 'stuck-closed'),
    (b, r) => contactOf(planOf(b, { restS: r.between(1.5, 5) }), { sticksIn: [r.pick([1, 2, ...counted])] }),
  ),
  faulty(
    'no-make-unseen',
    'It does not make in one stroke, and a cable is off for 0.5 to 5 s somewhere in it.',
    notPassed('did-not-make', 'unseen-strokes', 'never-makes', 'intermittent'),
    (b, r) => {
      const stroke = r.pick([1, 2, ...counted])
      const drawn = planOf(b, { giveUpPa: 1.3 * b.truth.switch.makePa })
      return switchOf(cableOff(drawn, r, stroke, [1, 18], [0.5, 5]), { noMakeIn: [stroke] })
    },
  ),
  faulty(
    'stays-closed-unseen',
    'In one stroke the contact stays closed through the whole vent, and a cable is off for 2 to 20 s somewhere from its rise on.',
    notPassed('stayed-made', 'stuck-closed', 'unseen-strokes', 'off-rating', 'limit:break'),
    (b, r) => {
      const stroke = r.pick([1, 2, ...counted])
      return contactOf(cableOff(planOf(b, { restS: 4 }), r, stroke, [10, 40], [2, 20]), { sticksIn: [stroke] })
    },
  ),
  faulty(
    'low-unseen',
    'In one stroke it makes and lets go 20 Pa too low, and a cable is off for 1 to 5 s on its rise.',
    notPassed('unseen-strokes', 'spread', 'stayed-made', 'limit:make', 'limit:break', 'sticky-first-stroke'),
    (b, r) => {
      const stroke = r.pick(counted)
      return switchOf(cableOff(b, r, stroke, [3, 8], [1, 5]), { shifts: [{ strokes: [stroke], shiftPa: -20 }] })
    },
  ),
  faulty(
    'first-gauge-high',
    'The first manometer reads 15 % too high; the second, at the switch, is right, and sends a line in 1 to 3 s.',
    notPassed('manometers-differ', ...hoseCauses),
    (b, r) =>
      gaugeOf(withSecond(b, { gainError: 0, offsetPa: 0, linePeriodS: r.between(1, 3) }), {
        gainError: 0.15,
        bow: null,
      }),
  ),
  faulty(
    'beyond-scale',
    'The manometer is specified to 0.2 inH2O, and shows a tenth less than there is.',
    notPassed('outside-scale', 'off-rating'),
    (b) => {
      const first = b.rig.manometer!
      const accuracy = { ...first.accuracy!, ofFullScale: 0.05, fullScale: { value: 0.2, unit: 'inH2O' as const } }
      return gaugeOf({ ...b, rig: { ...b.rig, manometer: { ...first, accuracy } } }, { gainError: -0.1, bow: null })
    },
  ),
  faulty(
    'one-stroke-low',
    'In one stroke that counts it makes and lets go 20 Pa too low.',
    notPassed('odd-stroke', 'uncounted-strokes', 'spread', 'limit:make', 'limit:break'),
    (b, r) => switchOf(b, { shifts: [{ strokes: [r.pick(counted)], shiftPa: -20 }] }),
  ),
  faulty(
    'one-break-low',
    'It lets go 30 Pa lower in one stroke that conditions it, and the part has no limit of the break.',
    notPassed('odd-stroke', 'uncounted-strokes', 'limit:make'),
    (b) => {
      const { part } = b
      const unlimited = { ...b, part: { ...part, limits: { ...part.limits, break: null } } }
      return switchOf(unlimited, { shifts: [{ strokes: [2], shiftPa: -30 }] })
    },
  ),
  faulty(
    'first-break-low',
    'The first break lies 20 Pa lower, and the part has no limit of the break.',
    notPassed('sticky-first-break', 'stayed-made', 'breaks-low'),
    (b) => {
      const { part } = b
      return switchOf({ ...b, part: { ...part, limits: { ...part.limits, break: null } } }, { firstBreakPa: -20 })
    },
  ),
  faulty(
    'discarded-low',
    'Three cycles lie 9 Pa too low, and the key discards them.',
    notPassed('discarded-strokes', 'off-rating', 'spread'),
    (b) => {
      const low = [4, 5, 6]
      return switchOf(planOf(b, { cycles: 8, discards: low }), { shifts: [{ strokes: low, shiftPa: -9 }] })
    },
  ),
  faulty(
    'contact-wears',
    'The closed contact goes from 0.3 to 2.7 ohm; 2 are allowed.',
    notPassed('high-contact-resistance', 'poor-contact', 'limit:contact'),
    (b) => contactOf(b, { risePerClosureOhm: 2.4 / (strokesOf(b) - 1) }),
  ),
  faulty(
    'contact-poor',
    'In three closures of the nine the contact has 300 ohm.',
    notPassed('poor-contact', 'high-contact-resistance', 'intermittent', 'did-not-make', 'limit:contact'),
    (b, r) => {
      const first = r.pick([1, 2, 3])
      return contactOf(b, { poor: { strokes: [first, first + 3, first + 6], ohm: 300 } })
    },
  ),
  row('file')(
    'meter-overdue',
    'The meter is overdue, and the part has a limit of its contact.',
    { verdicts: ['not-assessed', 'fail'], causes: [] },
    (b) => {
      const { meter } = b.rig
      if (!meter) throw new Error('the fair bench has a meter')
      return { ...b, rig: { ...b.rig, meter: { ...meter, identity: { ...meter.identity, due: '2025-12-31' } } } }
    },
  ),
  row('file')(
    'contact-limit-only',
    'The part file has a limit of the contact and none of the pressures.',
    { verdicts: ['not-assessed', 'fail'], causes: [] },
    (b) => ({ ...b, part: { ...b.part, limits: null } }),
  ),
]
