// Deliberate errors, each on its unsafe side: the text that is replaced, what takes its place, and the test that has to notice.

export type Mutant = {
  /** What is wrong then, in words. */
  error: string
  file: string
  /** Occurs exactly once in the file. */
  text: string
  replacement: string
  /** The test file, and a part of the test's name. */
  test: string
  name: string
}

const decision = 'tests/core/decision'

export const mutants: readonly Mutant[] = [
  {
    error: 'The alarm of the proof pressure comes at five times of it.',
    file: 'src/core/criteria.table.ts',
    text: "proofShare: [0.5, '× proof'",
    replacement: "proofShare: [5, '× proof'",
    test: 'tests/core/view/live-view.test.ts',
    name: 'a pressure that may harm the part is an alarm',
  },
  {
    error: 'The alarm of the rated point comes at twenty times of it.',
    file: 'src/core/criteria.table.ts',
    text: "twiceRated: [2, '× S'",
    replacement: "twiceRated: [20, '× S'",
    test: 'tests/core/view/live-view.test.ts',
    name: 'a pressure that may harm the part is an alarm',
  },
  {
    error: 'The guard on the unsafe side may be nothing.',
    file: 'src/core/decision/acceptance.ts',
    text: 'const safe = Math.max(factor, 1)',
    replacement: 'const safe = Math.max(factor, 0)',
    test: `${decision}/acceptance.test.ts`,
    name: 'follow the rig’s factor on the harmless side',
  },
  {
    error: 'The unsafe side of a proving switch is taken for that of a blockage switch.',
    file: 'src/core/decision/acceptance.ts',
    text: "return kind === 'draft-proving' ?",
    replacement: "return kind !== 'draft-proving' ?",
    test: `${decision}/limits.test.ts`,
    name: 'has no guard on the safe side and a full one on the unsafe side',
  },
  {
    error: 'An allowance draws no value towards its limit.',
    file: 'src/core/decision/acceptance.ts',
    text: 'const [leastPa, mostPa] = [yPa - allow.lowPa, yPa + allow.highPa]',
    replacement: 'const [leastPa, mostPa] = [yPa + allow.lowPa, yPa - allow.highPa]',
    test: `${decision}/acceptance.test.ts`,
    name: 'passes only where what an allowance leaves open passes too',
  },
  {
    error: 'A late hose is allowed for on the wrong side of the make.',
    file: 'src/core/uncertainty/allowance.ts',
    text: "make: { lowPa: both(late('make'), makeLeakPa), highPa: hose.make.early.pa,",
    replacement: "make: { lowPa: both(hose.make.early.pa, makeLeakPa), highPa: late('make'),",
    test: 'tests/core/uncertainty/allowance.test.ts',
    name: 'a late hose lets the make be lower',
  },
  {
    error: 'A leak that nothing bounds costs nothing.',
    file: 'src/core/uncertainty/allowance.ts',
    text: 'return lossPaPerS === null ? most :',
    replacement: 'return lossPaPerS === null ? 0 :',
    test: 'tests/core/uncertainty/allowance.test.ts',
    name: 'a leak that nothing bounds lowers make and break',
  },
  {
    error: 'The hose lifts the makes instead of delaying them.',
    file: 'src/core/trips/lag/hose.ts',
    text: 'value.valuePa - behind[shape](lagS)',
    replacement: 'value.valuePa + behind[shape](lagS)',
    test: 'tests/core/trips/lag/hose.test.ts',
    name: 'is the slope of the trips over the rate',
  },
  {
    error: 'One pace rules out every lag of the hose.',
    file: 'src/core/trips/lag/hose.ts',
    text: '!pacesDiffer(mine)) return { shown: null, ...open(lagsOf(most.shapes), 0),',
    replacement: '!pacesDiffer(mine)) return { shown: null, ...open([], 0),',
    test: 'tests/core/trips/lag/hose.test.ts',
    name: 'is not looked for where all trips had one pace',
  },
  {
    error: 'A hose is followed by the rate at the trip alone, whatever the pace before it.',
    file: 'src/core/trips/lag/behind-hose.ts',
    text: 'let feltPa = points[0]!.y',
    replacement:
      'let feltPa = points.at(-1)!.y - (lagS * (points.at(-1)!.y - points.at(-2)!.y)) / (points.at(-1)!.x - points.at(-2)!.x)\n  if (lagS > 0) return feltPa',
    test: 'tests/core/trips/lag/behind-hose.test.ts',
    name: 'leaves the switch farther behind',
  },
  {
    error: 'No kick fades.',
    file: 'src/core/trips/response.ts',
    text: '...[slow, ...quick].flatMap(',
    replacement: '...[stays].flatMap(',
    test: 'tests/core/trips/response.test.ts',
    name: 'hold one that fades away within a second',
  },
  {
    error: 'What the vents say of the display is ignored.',
    file: 'src/core/trips/response.ts',
    text: 'return responses.filter((r) => fits(r) && (',
    replacement: 'return responses.filter((r) => (fits(r) || true) && (',
    test: 'tests/core/trips/response.test.ts',
    name: 'are no slower than the display can be by its vents',
  },
  {
    error: 'A trip is put at the end of its interval instead of anywhere in it.',
    file: 'src/core/trips/trip-moment.ts',
    text: 'const lo = trip.loS - stampJitterS',
    replacement: 'const lo = trip.hiS - stampJitterS',
    test: 'tests/core/trips/likelihood.test.ts',
    name: 'a contact read every 0.5 s',
  },
  {
    error: 'A reversal ten times as great voids no cycle.',
    file: 'src/core/trips/reversal.ts',
    text: 'return Math.max(reversalShare * ratedPa,',
    replacement: 'return 10 * Math.max(reversalShare * ratedPa,',
    test: 'tests/core/trips/trips.test.ts',
    name: 'reversal: the pressure went back before the trip',
  },
  {
    error: 'The zero is not subtracted.',
    file: 'src/core/signal/pressure-track.ts',
    text: 'pa - zeroAt(zero, tUs[i]!)',
    replacement: 'pa - 0 * zeroAt(zero, tUs[i]!)',
    test: 'tests/core/signal/pressure-track.test.ts',
    name: 'has the zero subtracted',
  },
  {
    error: 'A discarded stroke counts.',
    file: 'src/core/strokes/cycles.ts',
    text: "if (voided) voided.why = 'discarded'",
    replacement: 'if (voided) voided.why = null',
    test: 'tests/core/strokes/cycles.test.ts',
    name: 'voids the stroke in progress',
  },
  {
    error: 'The resistance of the contact has no guard.',
    file: 'src/core/decision/limits.ts',
    text: "const guard = guardBandsOf(rating.kind, 'differential', rig).high",
    replacement: "const guard = 0 * guardBandsOf(rating.kind, 'differential', rig).high",
    test: `${decision}/contact-limit.test.ts`,
    name: 'is held against its limit in ohm by its guard U',
  },
  {
    error: 'A single trip outside its limit fails no part.',
    file: 'src/core/decision/limits.ts',
    text: "const broken = singles.some((v) => plainOutcome(v, limit, measured) === 'fail')",
    replacement: 'const broken = false',
    test: `${decision}/limits.test.ts`,
    name: 'wholly outside a plain limit fails the part whatever the mean says',
  },
  {
    error: 'Undecided comes before fail.',
    file: 'src/core/decision/verdict.ts',
    text: "if (has('fail') || limits.some(",
    replacement: "if (has('undecided')) return 'undecided'\n  if (has('fail') || limits.some(",
    test: `${decision}/verdict.test.ts`,
    name: 'a finding whose effect is fail beside one that is undecided',
  },
  {
    error: 'A recording without its seal may pass.',
    file: 'src/core/decision/verdict.ts',
    text: "const whole = !damage.torn && damage.seal === 'intact' &&",
    replacement: 'const whole = !damage.torn &&',
    test: `${decision}/verdict.test.ts`,
    name: 'no seal',
  },
  {
    error: 'Fewer than five cycles may pass.',
    file: 'src/core/decision/verdict.ts',
    text: 'used < criteria.fewestCycles ||',
    replacement: 'used < 1 ||',
    test: `${decision}/verdict.test.ts`,
    name: 'fewer than five cycles that count',
  },
  {
    error: 'A vent through the break counts as a slow trip.',
    file: 'src/core/trips/trips.ts',
    text: ': Math.max((tripRate(trip) * (hiUs - loUs)) / 1e6, sign * onPa)',
    replacement: ': (tripRate(trip) * (hiUs - loUs)) / 1e6',
    test: 'tests/core/quick-vent.test.ts',
    name: 'the vented stroke moves no value',
  },
  {
    error: 'The differential is as open as the make alone.',
    file: 'src/core/trips/lag/hose.ts',
    text: 'sign * (a.pa + b.pa)',
    replacement: 'sign * a.pa',
    test: 'tests/core/trips/lag/hose.test.ts',
    name: 'is open in the differential by less than make and break',
  },
  {
    error: 'What was found in a stroke is kept though its readings have changed.',
    file: 'src/core/trips/trips.ts',
    text: 'before && isSame(before.asked, asked)',
    replacement: 'before',
    test: 'tests/core/assess.test.ts',
    name: 'each result is the one that comes out of the whole run at once',
  },
  {
    error: 'What a cause silences is lost to the verdict.',
    file: 'src/core/diagnosis/diagnose.ts',
    text: 'return { ...evidence, told: tell(evidence.found) }',
    replacement: 'return { ...evidence, found: tell(evidence.found), told: tell(evidence.found) }',
    test: 'tests/core/diagnosis/diagnose.test.ts',
    name: 'what a cause silences is not told, and stays in the evidence',
  },
  {
    error: 'What the second reader sees counts for nothing.',
    file: 'src/core/judge.ts',
    text: 'const contradicted = contradictions(analysis)',
    replacement: 'const contradicted = { ...contradictions(analysis), trips: [], value: null, lagS: null }',
    test: 'tests/core/decision/second-reader.test.ts',
    name: 'by a lag that no bench can have is caught',
  },
]
