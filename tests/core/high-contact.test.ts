// Contacts that conduct badly for a part of each closure, and meters that only look so.
import { expect, test } from 'vitest'
import { createRandom, type ForeignBench, rewrite } from '../harness/foreign-recording.ts'
import { found, judged, session } from './diagnosis/sessions.ts'

type Look = (sinceS: number, stroke: number, tS: number) => number | null

/** A good part whose meter shows what `look` says so long after each closing; null: what it shows else. */
function shows(look: Look, change: Partial<ForeignBench> = {}) {
  const good = session(change)
  return rewrite(good, 'meter', (tS, text) => {
    const stroke = good.strokes.findLastIndex((s) => s.makeS <= tS && tS < s.breakS)
    const ohm = stroke < 0 ? null : look(tS - good.strokes[stroke]!.makeS, stroke, tS)
    return ohm === null ? text : `${ohm.toExponential(3)}\n`
  })
}

const outcome = (look: Look, change?: Partial<ForeignBench>) => {
  const recording = shows(look, change)
  const { verdict, limits } = judged(recording)
  return { verdict, contact: limits.find((l) => l.name === 'contact')!.outcome, findings: found(recording) }
}
const good = { verdict: 'pass', contact: 'pass', findings: [] }
const told = (verdict: 'fail' | 'undecided') => ({
  verdict,
  contact: verdict,
  findings: [['high-contact-resistance', verdict]],
})

test('One second in three at 9 ohm fails, though the median of each closure is good.', () => {
  const look: Look = (_, __, tS) => (Math.floor(tS) % 3 === 0 ? 9 : null)
  expect(outcome(look)).toEqual(told('fail'))
  const { contact, findings } = judged(shows(look))
  expect(contact.medianOhm).toBeCloseTo(0.31, 2)
  expect(findings[0]!.text).toMatch(
    /^In 6 of 6 closures the contact stayed above 2 Ω, up to 9\.0 Ω, for [456] readings/,
  )
})

test('Six ohm through the hold of one stroke fails: that is as long as a closure.', () => {
  const hold = session().strokes[0]!
  expect(outcome((_, stroke, tS) => (stroke === 0 && hold.peakS - 6 < tS && tS < hold.peakS ? 6 : null))).toEqual(
    told('fail'),
  )
})

test('One second at 8 ohm after each closing is undecided: a meter that settles falls, and does not stay.', () => {
  const look: Look = (sinceS) => (sinceS < 1 ? 8 : null)
  expect(outcome(look)).toEqual(told('undecided'))
  expect(judged(shows(look)).findings[0]!.text).toMatch(/fix the range of the meter by hand/)
})

test.each([0.1, 0.2, 0.3])('A meter that settles to its value with %f s passes as ever.', (tauS) => {
  expect(outcome((sinceS) => 0.31 + 9 * Math.exp(-sinceS / tauS))).toEqual(good)
  // From farther off it is closed later: then it is told as a meter that looks for its range.
  expect(outcome((sinceS) => 0.31 + 500 * Math.exp((-3 * sinceS) / tauS))).toMatchObject({
    verdict: 'pass',
    contact: 'pass',
  })
})

test('So does one that falls in a straight line for a second, and one that answers twice from one conversion.', () => {
  const falls = (sinceS: number) => (sinceS < 1 ? 8 - 7.69 * sinceS : 0.31)
  expect(outcome(falls)).toEqual(good)
  expect(outcome((sinceS) => falls(0.4 * Math.floor(sinceS / 0.4)))).toEqual(good)
})

test('A range that it looks for with no reading in between is nothing to the contact.', () => {
  expect(outcome((sinceS) => (sinceS < 0.8 ? 9.9e37 : null)).contact).toBe('pass')
})

test('One second at 5 ohm within one closure is undecided; in two of six it fails; two readings are nothing.', () => {
  const at =
    (strokes: readonly number[], forS: number): Look =>
    (sinceS, stroke) =>
      strokes.includes(stroke) && sinceS > 4 && sinceS < 4 + forS ? 5 : null
  expect(outcome(at([2], 1))).toEqual(told('undecided'))
  expect(outcome(at([2, 4], 1))).toEqual(told('fail'))
  expect(outcome(at([2], 0.4))).toEqual(good)
})

test('Single readings at 9 ohm are undecided where they are no chance, and fail where there are many.', () => {
  const each =
    (n: number): Look =>
    (sinceS) =>
      Math.round(sinceS / 0.2) % n === n - 1 ? 9 : null
  expect(outcome(each(5))).toEqual(told('fail'))
  expect(outcome(each(20))).toEqual(told('undecided'))
  const random = createRandom(3)
  expect(outcome(() => (random.uniform() < 0.45 ? 9 : null))).toEqual(told('fail'))
})

test('What lies above the limit by less than the meter may be wrong by fails no part.', () => {
  expect(outcome((_, __, tS) => (Math.floor(tS) % 3 === 0 ? 2.05 : null))).toEqual(told('undecided'))
})

test('Without a limit, and past the date of the meter, nothing is said of it.', () => {
  const look: Look = (_, __, tS) => (Math.floor(tS) % 3 === 0 ? 9 : null)
  expect(outcome(look, { part: { contact: null } }).findings).toEqual([])
  const overdue = { rig: { meter: { identity: { due: '2026-03-01' } } } }
  expect(outcome(look, overdue).findings.map(([code]) => code)).not.toContain('high-contact-resistance')
})
