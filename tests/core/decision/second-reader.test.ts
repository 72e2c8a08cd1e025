import { describe, expect, test } from 'vitest'
import { type Analysis, analyse } from '../../../src/core/analyse.ts'
import { contradictions } from '../../../src/core/decision/contradictions.ts'
import { readAgain } from '../../../src/core/decision/second-reader.ts'
import { judge } from '../../../src/core/judge.ts'
import { foldEvents, sealRun } from '../../harness/fold-events.ts'
import {
  createRandom,
  type ForeignBench,
  type ForeignRecording,
  makeForeignRecording,
  quietBench,
  rewrite,
} from '../../harness/foreign-recording.ts'
import { session, within } from '../diagnosis/sessions.ts'

function analysed(recording: ForeignRecording): Analysis {
  const run = sealRun(foldEvents(recording.events))
  return analyse(run, run.setup!)
}

/** What the second reader says of a recording, stroke by stroke. */
function read(recording: ForeignRecording) {
  const { run, setup } = analysed(recording)
  const { pair, digitPa } = setup.rig
  const raw = { pressure: run.pressure.part(), contact: run.contact }
  return readAgain(raw, { ratedPa: setup.rating.ratedPa, digitPa, pair })
}

/** At one pace of 1 Pa/s, without scatter, noise and kick, so that a bracket can be worked out by hand. */
const byHand = { ratePaPerS: () => 1, scatterPa: 0, kickPa: 0, noisePa: 0, digitPa: 0.025, meterS: 0.1 }

describe('By hand: 62 Pa at 1 Pa/s, from 49.6 Pa on and up to 67 Pa', () => {
  test('the make lies from the pressure of 3 s before the contact to the one of 1.5 s after it', () => {
    // Readings of both instruments each 0.1 s: by so much, and half as much again, each end is wider; and by the digit.
    for (const stroke of read(session(byHand))) {
      expect(stroke.make!.lowPa).toBeGreaterThan(62 - 3 - 0.5)
      expect(stroke.make!.lowPa).toBeLessThan(62 - 3)
      expect(stroke.make!.highPa).toBeGreaterThan(62 + 1.5)
      expect(stroke.make!.highPa).toBeLessThan(62 + 1.5 + 0.3)
    }
  })
  test('the break mirrored', () => {
    for (const stroke of read(session(byHand))) {
      expect(stroke.break!.highPa).toBeGreaterThan(47 + 3)
      expect(stroke.break!.highPa).toBeLessThan(47 + 3 + 0.5)
      expect(stroke.break!.lowPa).toBeLessThan(47 - 1.5)
      expect(stroke.break!.lowPa).toBeGreaterThan(47 - 1.5 - 0.3)
    }
  })
  test('a kick of 3 Pa does not lower the low end', () => {
    for (const stroke of read(session({ ...byHand, kickPa: 3 }))) expect(stroke.make!.lowPa).toBeGreaterThan(62 - 3.5)
  })
  test('a zero that moves by 2 Pa between rests makes it wider by 2 Pa, and a steady offset by nothing', () => {
    const [plain, offset] = [read(session(byHand)), read(session({ ...byHand, offsetPa: () => 3 }))]
    const drifting = read(session({ ...byHand, offsetPa: (tS) => (tS < 100 ? 0 : 2) }))
    const widthOf = ([stroke]: typeof plain) => stroke!.make!.highPa - stroke!.make!.lowPa
    expect(widthOf(offset)).toBeCloseTo(widthOf(plain), 6)
    expect(widthOf(drifting) - widthOf(plain)).toBeCloseTo(2, 1)
  })
  test('the highest pressure drawn is told', () => {
    for (const { peakPa } of read(session({ ...byHand, peakPa: 80 }))) expect(Math.abs(peakPa - 80)).toBeLessThan(0.1)
  })
})

describe('It says nothing', () => {
  const recording = session(byHand)
  const { makeS, breakS } = recording.strokes[2]!
  const third = (changed: ForeignRecording) => read(changed)[2]!
  test('of a make whose readings have a gap, and still of its break', () => {
    const gap = rewrite(recording, 'manometer', (tS, text) => (within(tS, makeS - 2, makeS - 1) ? null : text))
    expect(third(gap).make).toBeNull()
    expect(third(gap).break).not.toBeNull()
  })
  test('where the contact was not read', () => {
    const gap = rewrite(recording, 'meter', (tS, text) => (within(tS, breakS - 0.5, breakS + 0.5) ? null : text))
    expect(third(gap).break).toBeNull()
    expect(third(gap).make).not.toBeNull()
  })
  test('where the display froze', () => {
    let shown = ''
    const frozen = rewrite(recording, 'manometer', (tS, text) => {
      if (!within(tS, makeS - 2, makeS)) shown = text
      return shown
    })
    expect(third(frozen).make).toBeNull()
  })
  test('where the hand turned back twice', () => {
    const shaken = session({ ...byHand, offsetPa: (tS) => (within(tS, makeS - 3, makeS) ? 3 * Math.sin(6 * tS) : 0) })
    expect(third(shaken).make).toBeNull()
  })
  test('where the contact changed more than up and back', () => {
    const bad = rewrite(recording, 'meter', (tS, text) => (within(tS, makeS + 1, makeS + 1.5) ? '+9.9E+37\n' : text))
    expect(third(bad).make).toBeNull()
  })
})

/** A value of the fit moved, with all its trips. */
function shifted(analysis: Analysis, transition: 'make' | 'break', byPa: number): Analysis {
  const measured = structuredClone(analysis.measured)
  const { estimate } = measured[transition]
  estimate.valuePa! += byPa
  const key = `${transition}Value` as const
  const cycles = analysis.cycles.map((cycle) => {
    const value = cycle[key]
    const moved = value && {
      ...value,
      valuePa: value.valuePa + byPa,
      loPa: value.loPa + byPa,
      hiPa: value.hiPa + byPa,
    }
    return { ...cycle, [key]: moved }
  })
  return { ...analysis, measured, cycles }
}

const good = analysed(session({ holdS: 14 }))
const codesOf = (analysis: Analysis) => judge(analysis).findings.map((f) => f.code)
const outcomeOf = (analysis: Analysis, name: string) => judge(analysis).limits.find((l) => l.name === name)!.outcome

describe('A fit that is wrong', () => {
  test.each([
    ['make', 20],
    ['make', -20],
    ['break', 20],
    ['break', -20],
  ] as const)('by its %s of %i Pa is caught, and its limits are undecided', (transition, byPa) => {
    const wrong = shifted(good, transition, byPa)
    expect(codesOf(good)).toEqual([])
    expect(outcomeOf(good, transition)).toBe('pass')
    expect(codesOf(wrong)).toContain('fit-contradicted')
    expect(codesOf(wrong)).toContain('outside-bracket')
    for (const name of ['make', 'break', 'differential']) expect(outcomeOf(wrong, name)).toBe('undecided')
    expect(judge(wrong).findings.filter((f) => f.effect === 'fail')).toEqual([])
    expect(judge(wrong).verdict).toBe('undecided')
  })
  test('does not save a part whose readings alone lie outside the limits', () => {
    const bad = analysed(session({ makePa: 45, breakPa: 30, holdS: 14 }))
    expect(judge(bad).verdict).toBe('fail')
    const wrong = shifted(bad, 'make', 17)
    expect(codesOf(wrong)).toContain('fit-contradicted')
    expect(outcomeOf(wrong, 'make')).toBe('fail')
    expect(judge(wrong).verdict).toBe('fail')
  })
  test('by a lag that no bench can have is caught', () => {
    const lagging = (valueS: number) => ({ ...good, lag: { ...good.lag, valueS, uS: 0.05 } })
    expect(codesOf(lagging(2.9))).not.toContain('fit-contradicted')
    for (const valueS of [3.5, -2]) expect(codesOf(lagging(valueS))).toContain('fit-contradicted')
  })
  test('in one trip loses that trip and not the part', () => {
    const wrong = shifted(good, 'make', -20)
    const cycles = good.cycles.map((cycle, i) => (i === 3 ? wrong.cycles[3]! : cycle))
    const one = { ...good, cycles }
    expect(judge(one).findings).toMatchObject([
      { code: 'outside-bracket', evidence: { stroke: 4, transition: 'make' } },
    ])
    expect(judge(one).limits.map((l) => l.outcome)).toEqual(judge(good).limits.map((l) => l.outcome))
    expect(judge(one).verdict).toBe('undecided')
  })
  test('stays as it is where fewer than three trips can be read', () => {
    const recording = session()
    const late = recording.strokes.slice(1, 4).map(({ makeS }) => makeS)
    const gaps = rewrite(recording, 'manometer', (tS, text) =>
      late.some((makeS) => within(tS, makeS + 0.9, makeS + 1.4)) ? null : text,
    )
    const few = analysed(gaps)
    expect(contradictions(shifted(few, 'make', 20)).value).toBeNull()
    expect(contradictions(shifted(analysed(recording), 'make', 20)).value).not.toBeNull()
  })
})

/** A good bench of its seed: lag from −1 to 2 s, hose, averaging, damping, noise, kicks that stay or fade. */
function goodBench(seed: number): ForeignBench {
  const random = createRandom(7919 * seed)
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random.uniform() * from.length)]!
  const lagS = -1 + 3 * random.uniform()
  const slow = 0.5 + 1.5 * random.uniform()
  const fades = { kickFades: { tauS: 0.2 + 2 * random.uniform(), stays: pick([0, 0.4, 0.7]) } }
  return {
    ...quietBench,
    seed,
    cycles: 4,
    ratePaPerS: (stroke) => (stroke > 2 ? 2.5 : 1) * slow,
    kickPa: pick([0, 1, 3, 6]),
    scatterPa: pick([0.05, 0.3]),
    noisePa: pick([0.02, 0.05, 0.3]),
    digitPa: pick([0.025, 0.25, 1]),
    manometerS: pick([0.25, 0.5]),
    meterS: pick([0.2, 0.5]),
    hoseS: pick([0, 0, 0.3, 0.8]),
    averageS: pick([0, 0, 0.5, 1]),
    dampingS: pick([0, 0.2]),
    contactDelayS: Math.max(0, lagS),
    pressureDelayS: Math.max(0, -lagS),
    ...pick([{}, fades]),
  }
}

// Deliberate errors that this catches: a display that may not be late, and a longest lag of 1 s.
test('Over 60 good benches it has nothing against the fit, and speaks of nearly every trip.', () => {
  let [spoken, trips] = [0, 0]
  for (let seed = 1; seed <= 60; seed++) {
    const analysis = analysed(makeForeignRecording(goodBench(seed)))
    const { trips: outside, value, lagS, brackets } = contradictions(analysis)
    expect({ seed, outside, value, lagS }).toEqual({ seed, outside: [], value: null, lagS: null })
    trips++
    if (brackets.make !== null) spoken++
  }
  expect(spoken / trips).toBeGreaterThan(0.8)
}, 120_000)
