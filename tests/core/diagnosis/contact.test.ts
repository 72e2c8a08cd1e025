import { describe, expect, test } from 'vitest'
import { rewrite } from '../../harness/foreign-recording.ts'
import { found, judged, session, within } from './sessions.ts'

const open = '+9.9E+37\n'
const closed = '+3.1E-01\n'
const noMaxOhm = { part: { contact: null } }

describe('high-contact-resistance', () => {
  test('fails above the limit of the part, as the contact limit does', () => {
    const result = judged(session({ contactOhm: () => 2.2 }))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['high-contact-resistance', 'fail']])
    expect(result.limits.find((l) => l.name === 'contact')).toMatchObject({ highPa: 2, outcome: 'fail' })
    expect(result.verdict).toBe('fail')
  })
  test('is not said below it, and inside the guard the limit alone says undecided', () => {
    expect(found(session({ contactOhm: () => 1.8 }))).toEqual([])
    const near = judged(session({ contactOhm: () => 1.95 }))
    expect(near.findings).toEqual([])
    expect(near.limits.find((l) => l.name === 'contact')).toMatchObject({ outcome: 'undecided' })
    expect(near.verdict).toBe('undecided')
  })
  test('is said of one closure that lies wholly above it', () => {
    const result = judged(session({ contactOhm: (stroke) => (stroke === 3 ? 3 : 0.3) }))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['high-contact-resistance', 'fail']])
    expect(result.findings[0]!.text).toMatch(/^In one closure the contact measures 3/)
  })
  test('goes with what the rig states of its meter: a poor one leaves it undecided', () => {
    const accuracy = { ofReading: 0, ohm: 0.5, distribution: 'rectangular' }
    const result = judged(session({ contactOhm: () => 2.2, rig: { meter: { accuracy } } }))
    expect(result.verdict).toBe('undecided')
    // Half an ohm, the clips and the digit of the line, 0.001 ohm: JCGM 100:2008, 4.3.7.
    expect(result.contact.uOhm).toBeCloseTo(Math.hypot(0.5, 0.05, 0.0005) / Math.sqrt(3), 6)
  })
  test('is a note where the part states no limit', () => {
    const recording = session({ contactOhm: () => 2.2, ...noMaxOhm })
    expect(found(recording)).toEqual([['high-contact-resistance', 'note']])
    expect(judged(recording).verdict).toBe('pass')
  })
  test('needs five closures, for one clip that slipped is no switch', () => {
    const few = session({ contactOhm: () => 2.2, cycles: 3 })
    expect(found(few).map(([code]) => code)).not.toContain('high-contact-resistance')
  })
  test('is what is left without the leads', () => {
    const leads = { rig: { meter: { leadsOhm: 0.5 } } }
    const recording = session({ contactOhm: () => 2.2, ...leads })
    expect(found(recording)).toEqual([])
    expect(judged(recording).contact.medianOhm).toBeCloseTo(1.7, 6)
  })
})

describe('contact-film', () => {
  const falling = (first: number, last: number) => (stroke: number) => last + (first - last) * 0.25 ** stroke
  test('fails where the resistance falls from over 1 ohm to under a third of it', () => {
    expect(found(session({ contactOhm: falling(5, 0.4) }))).toEqual([['contact-film', 'fail']])
  })
  test('is a note where the part states no limit', () => {
    expect(found(session({ contactOhm: falling(5, 0.4), ...noMaxOhm }))).toEqual([['contact-film', 'note']])
  })
  test('is not said where it starts under 1 ohm, or falls to no less than a third', () => {
    expect(found(session({ contactOhm: falling(0.9, 0.1) }))).toEqual([])
    expect(found(session({ contactOhm: falling(1.9, 0.8) }))).toEqual([])
  })
})

describe('intermittent', () => {
  const good = session({ peakPa: 80 })
  const opens = (atS: (s: (typeof good.strokes)[number]) => number) =>
    rewrite(good, 'meter', (tS, text) =>
      within(tS, atS(good.strokes[2]!), atS(good.strokes[2]!) + 0.45) ? open : text,
    )
  test('fails where the contact opens once while held above 1.1 × its make', () => {
    const recording = opens((s) => s.peakS - 0.7)
    expect(found(recording)).toEqual([['intermittent', 'fail']])
    expect(judged(recording).verdict).toBe('fail')
  })
  test('is undecided where it makes again on the fall, below its break or above it', () => {
    for (const recording of [
      rewrite(good, 'meter', (tS, text) =>
        within(tS, good.strokes[2]!.breakS + 7, good.strokes[2]!.breakS + 7.5) ? closed : text,
      ),
      opens((s) => s.breakS - 6.5),
    ]) {
      expect(found(recording)).toEqual([['intermittent', 'undecided']])
      expect(judged(recording).verdict).toBe('undecided')
    }
  })
  test('is not what an opening right at the trip is: that is chatter', () => {
    expect(found(opens((s) => s.makeS + 0.5)).map(([code]) => code)).toEqual(['chatter'])
  })
})

describe('poor-contact', () => {
  const good = session()
  /** Readings of 50 ohm in the middle of the closure of each stroke named. */
  const poor = (strokes: readonly number[], forS: number) =>
    rewrite(good, 'meter', (tS, text) => {
      const at = strokes.map((i) => good.strokes[i]!.makeS + 1)
      return text === closed3 && at.some((atS) => within(tS, atS, atS + forS)) ? '+5.0E+01\n' : text
    })
  const closed3 = '3.100e-1\n'
  const of = (strokes: readonly number[], forS: number) => found(poor(strokes, forS))

  test('is a note of a single reading, undecided in one closure, a fail in more than one in five', () => {
    expect(of([2], 0.2)).toEqual([['poor-contact', 'note']])
    expect(judged(poor([2], 0.2)).verdict).toBe('pass')
    expect(of([2], 0.6)).toEqual([['poor-contact', 'undecided']])
    expect(judged(poor([2], 0.6))).toMatchObject({ verdict: 'undecided', contact: { poorShare: 1 / 6 } })
    expect(of([2, 3], 0.6)).toEqual([['poor-contact', 'fail']])
    expect(judged(poor([2, 3], 0.6)).verdict).toBe('fail')
  })
  test('is not said of a sound contact, of which no closure is poor', () => {
    expect(judged(good)).toMatchObject({ findings: [], contact: { poorShare: 0 } })
  })
})

describe('meter-overdue', () => {
  const overdue = { rig: { meter: { identity: { due: '2026-03-01' } } } }
  test('is a note where the part states no limit in ohm: its contact is not assessed, the part is', () => {
    const result = judged(session({ ...overdue, ...noMaxOhm }))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['meter-overdue', 'note']])
    expect(result.verdict).toBe('pass')
  })
  test('keeps a part with a limit in ohm from a verdict, and a fail is told beside', () => {
    const result = judged(session(overdue))
    expect(result.verdict).toBe('not-assessed')
    expect(result.limits.find((l) => l.name === 'contact')!.outcome).toBe('not-assessed')
    expect(judged(session({ ...overdue, makePa: 74, breakPa: 60 })).beside).toMatch(/trips steadily/)
  })
  test('is not said on the last day', () => {
    expect(judged(session({ rig: { meter: { identity: { due: '2026-03-02' } } } })).verdict).toBe('pass')
  })
})

describe('chatter', () => {
  const good = session({ cycles: 6 })
  const flutter = (changes: number, strokes: readonly number[]) =>
    rewrite(good, 'meter', (tS, text) => {
      for (const i of strokes) {
        const k = Math.floor((tS - good.strokes[i]!.makeS) / 0.4)
        if (k >= 0 && k < changes) return k % 2 === 0 ? closed : open
      }
      return text
    })
  test('is undecided, its cycles void, the others left', () => {
    const result = judged(flutter(4, [2]))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['chatter', 'undecided']])
    expect(result.findings[0]!.evidence).toMatchObject({ strokes: 1, of: 7 })
    expect(result.cycles.filter((c) => c.used)).toHaveLength(5)
    expect(result.verdict).toBe('undecided')
  })
  test('is not said of one change', () => expect(found(flutter(1, [2, 3]))).toEqual([]))
})

describe('dead-break', () => {
  const good = session({ wired: 'network', ratePaPerS: () => 1.5 })
  const neither = (forS: number) =>
    rewrite(good, 'meter', (tS, text) =>
      within(tS, good.strokes[2]!.breakS - 0.1, good.strokes[2]!.breakS - 0.1 + forS) ? '1.000e+3\n' : text,
    )
  test('fails where both throws stay open for over 0.2 s and two readings', () => {
    const recording = neither(1.2)
    expect(found(recording)).toEqual([['dead-break', 'fail']])
    expect(judged(recording).verdict).toBe('fail')
  })
  test('is not said of a single reading, nor where only one throw is seen', () => {
    expect(found(neither(0.2))).toEqual([])
    expect(found(session())).toEqual([])
  })
  test('is not said of a lead that came loose and went back to the same throw', () => {
    const loose = rewrite(good, 'meter', (tS, text) =>
      within(tS, good.strokes[2]!.peakS - 0.8, good.strokes[2]!.peakS) ? '1.000e+3\n' : text,
    )
    expect(found(loose).map(([code]) => code)).not.toContain('dead-break')
  })
})
