import { describe, expect, test } from 'vitest'
import type { Settling } from '../../../src/core/decision/settling.ts'
import type { Blocked } from '../../../src/core/decision/verdict.ts'
import { partFileSchema } from '../../../src/core/model/part.ts'
import type { Finding, LimitResult, Result } from '../../../src/core/model/result.ts'
import { bareText } from '../../../src/terminal/text/line.ts'
import { verdictLines, verdictRows } from '../../../src/terminal/text/verdict-lines.ts'
import { samplePart, sampleResult } from '../sample-lives.ts'

const lines = (change: Partial<Result>) => verdictLines(sampleResult(9, change), samplePart)
const finding = (effect: Finding['effect'], text: string): Finding => ({ code: 'spread', effect, text, evidence: {} })
const limit = (change: Partial<LimitResult>): LimitResult[] => [
  { name: 'make', lowPa: 54.8, highPa: 69.744, outcome: 'fail', conformance: 0, ...change },
]

describe('verdictLines', () => {
  test('says word, reason, numbers in the unit of the part and in pascal, limits, outcomes and the next step', () => {
    expect(lines({})).toEqual([
      'Verdict: PASS',
      'Within all limits, with margin, over 6 counted cycles; it acted in 8 of 8 strokes.',
      'make          0.2473 ± 0.0021 inH2O  61.60 ± 0.52 Pa  0.22 to 0.28   pass',
      'break         0.1891 ± 0.0021 inH2O  47.10 ± 0.52 Pa  at least 0.15  pass',
      'differential  0.0582 ± 0.0021 inH2O  14.50 ± 0.52 Pa  0.01 to 0.09   pass',
      'first make    0.249 inH2O            61.9 Pa          no limit       measured',
      'first break   0.188 inH2O            46.8 Pa          no limit       measured',
      'contact       0.31 ohm                                at most 2 ohm  pass',
      'Strokes: it acted in 8 of 8; a fault in one stroke of 4 would have been seen 9 times in 10, with --strokes 30 one of 14.',
      expect.stringMatching(/^Next: Label the part, .* local codes and licensed practice come first\.$/),
    ])
  })

  test('says in one row what was wrong with the lines of the instruments', () => {
    const quality = {
      manometer: { lines: 4319, unreadable: 2, implausible: 1, gaps: 1, clumps: 63 },
      meter: { lines: 716, unreadable: 0, implausible: 0, gaps: 2, clumps: 0 },
    }
    expect(lines({ quality }).at(-2)).toBe(
      'Lines: manometer 2 not readable, 1 wild, 1 gap, 63 times several at once, of 4319; meter 2 gaps, of 716.',
    )
  })

  test('shows no outcome of a single limit where the test is void or its recording is damaged', () => {
    const { damage } = sampleResult(9)
    const changes: Partial<Result>[] = [
      { verdict: 'void' },
      { verdict: 'undecided', damage: { ...damage, torn: true } },
      { verdict: 'void', damage: { ...damage, seal: 'broken' } },
      { verdict: 'void', damage: { ...damage, corruptLines: [7] } },
    ]
    for (const change of changes) {
      const rows = lines(change).slice(2, 8)
      expect(rows.filter((row) => /pass|fail/.test(row))).toEqual([])
      expect(rows[0]).toMatch(/0\.22 to 0\.28 +–$/)
    }
  })

  test('after a simulated run the next step is the real one, after the remark that no real part was tested', () => {
    for (const verdict of ['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const) {
      const next = (simulated: boolean) =>
        verdictLines(sampleResult(9, { verdict }), samplePart, { simulated }).at(-1)!.replace('Next: ', '')
      expect(next(true)).toBe(`Simulated, no real part tested: ${next(false)}`)
    }
  })

  test('a test that was given up says so first, and what was never measured is not called undecided', () => {
    const text = verdictLines(sampleResult(0, { limits: limit({ outcome: 'undecided' }) }), samplePart, {
      end: 'abandoned',
    })
    expect(text[1]).toBe('The test was abandoned. Cycles that count: 0; at least 5 are needed.')
    expect(text[2]).toMatch(/^make .* 0\.22 to 0\.28 +not measured$/)
    const running = verdictRows(sampleResult(0, { limits: limit({ outcome: 'undecided' }) }), samplePart, {
      phase: 'cycles',
    })
    expect(bareText(running.numbers[0]!)).toMatch(/ not yet$/)
  })

  test('who signed the recording is said before the next step, and nothing where nobody looked', () => {
    const signature = 'signed by the key of this bench, ab12 cd34'
    const lines = verdictLines(sampleResult(9), samplePart, { signature })
    expect(lines.at(-2)).toBe('Signature: signed by the key of this bench, ab12 cd34.')
    expect(lines.at(-1)).toMatch(/^Next: /)
    expect(verdictLines(sampleResult(9), samplePart).join('\n')).not.toContain('Signature')
  })

  test('a recording that is astray is the first reason, in place of its seal, and the next step says what to do about it', () => {
    const astray = { message: 'The recording /a/x.run was moved.', next: 'Keep the file named last.' }
    const unsealed = { torn: false, corruptLines: [], seal: 'missing' } as const
    const text = (verdict: Result['verdict']) =>
      verdictLines(sampleResult(9, { verdict, damage: { ...unsealed, corruptLines: [] } }), samplePart, { astray })
    expect(text('undecided')[1]).toBe('The recording /a/x.run was moved.')
    expect(text('undecided').at(-1)).toBe('Next: The part is not proven. Keep the file named last.')
    expect(text('fail').at(-1)).toMatch(/^Next: Mark the part, set it apart .*\. Keep the file named last\.$/)
  })

  test.each<[Blocked, RegExp, RegExp]>([
    [{ why: 'overdue', due: '2026-01-31' }, /certificate was valid until 2026-01-31/, /Have the manometer calibrated/],
    [{ why: 'meter-overdue', due: '2026-01-31' }, /meter's certificate was valid/, /Have the meter calibrated/],
    [{ why: 'no-limits' }, /no limit of the part is stated/, /State the limits in the part file/],
    [{ why: 'no-accuracy' }, /neither accuracy nor certificate/, /State accuracy or certificate .* in the rig/],
    [{ why: 'purpose' }, /this purpose decides nothing/, /test it to certify it/],
  ])('not assessed because of $0.why: the reason names it and the next step mends it', (blocked, reason, next) => {
    const text = verdictLines(sampleResult(9, { verdict: 'not-assessed' }), samplePart, { blocked })
    expect(text[1]).toMatch(reason)
    expect(text.at(-1)).toMatch(next)
    if (blocked.why !== 'no-limits') expect(text.at(-1)).not.toContain('limits')
  })

  test('a part rated in pascal shows each number once', () => {
    const part = partFileSchema.parse({ kind: 'blockage', rated: { value: 62, unit: 'Pa', on: 'make' } })
    const text = verdictLines(sampleResult(9, { limits: [] }), part)
    expect(text[2]).toMatch(/^make +61\.60 ± 0\.52 Pa +no limit +measured$/)
  })

  test('a limit not met is the reason, with value, uncertainty and limit', () => {
    const low = { ...sampleResult(9).make, valuePa: 50 }
    expect(lines({ verdict: 'fail', make: low, limits: limit({}) })[1]).toBe(
      'The make is 0.2007 ± 0.0021 inH2O (50.00 ± 0.52 Pa): below the limit of 0.22 inH2O.',
    )
    const high = { ...low, valuePa: 72 }
    expect(lines({ verdict: 'fail', make: high, limits: limit({}) })[1]).toMatch(/above the limit of 0\.28 inH2O\.$/)
  })

  test('an undecided limit names the side it is too near to', () => {
    const near = { ...sampleResult(9).make, valuePa: 55 }
    expect(lines({ verdict: 'undecided', make: near, limits: limit({ outcome: 'undecided' }) })[1]).toBe(
      'The make is 0.2208 ± 0.0021 inH2O (55.00 ± 0.52 Pa): too near the low limit of 0.22 inH2O to decide.',
    )
  })

  test('an allowance is told in its sentence and beside the numbers, and the finding says what takes it away', () => {
    const make = { ...sampleResult(9).make, valuePa: 57, allowLowPa: 3.6 }
    const proof = 'Draw two strokes 3 times as fast.'
    const findings = [{ ...finding('undecided', proof), code: 'lag-not-proved' }]
    const settlings: Settling[] = [{ quantity: 'make', cycles: null, accuracyPa: null, largest: 'lag' }]
    const result = sampleResult(9, { verdict: 'undecided', make, findings, limits: limit({ outcome: 'undecided' }) })
    const text = verdictLines(result, samplePart, { settlings })
    expect(text[1]).toBe(
      `The make is 0.2288 ± 0.0021 inH2O (57.00 ± 0.52 Pa), or up to 0.0145 inH2O (3.60 Pa) lower for a lag or a leak not ruled out: too near the low limit of 0.22 inH2O to decide. ${proof}`,
    )
    expect(text).toContain('Lag or leak not ruled out: make up to 0.0145 inH2O (3.60 Pa) lower.')
  })

  test('and what would settle it: more cycles, a better manometer, or neither', () => {
    const near = { ...sampleResult(9).make, valuePa: 55 }
    const result = sampleResult(9, { verdict: 'undecided', make: near, limits: limit({ outcome: 'undecided' }) })
    const reason = (change: Partial<Settling>) =>
      verdictLines(result, samplePart, {
        settlings: [{ quantity: 'make', cycles: null, accuracyPa: null, largest: 'lag', ...change }],
      })[1]
    const more = near.n + 3
    expect(reason({ cycles: more })).toMatch(
      /to decide\. 3 more cycles that count would settle it, should it stay there\.$/,
    )
    expect(reason({ cycles: near.n + 1 })).toMatch(/ 1 more cycle that counts would settle it, should it stay there\.$/)
    expect(reason({ accuracyPa: 0.2999 })).toMatch(
      / More cycles would not settle it; a manometer that is wrong by at most 0\.0012 inH2O \(0\.29 Pa\) would\.$/,
    )
    expect(reason({})).toMatch(/ Neither more cycles nor a better manometer would settle it: .* is lag\.$/)
  })

  test('too few cycles are told with why the others are void, and what to do about most of them', () => {
    const base = sampleResult(9)
    const why = ['first-stroke', 'reversal', 'reversal', 'too-fast', 'discarded'] as const
    const cycles = why.map((w, i) => ({ ...base.cycles[i]!, used: false, why: w }))
    const make = { ...base.make, n: 0 }
    expect(lines({ verdict: 'undecided', cycles, make, limits: [] })[1]).toBe(
      'Cycles that count: 0; at least 5 are needed. Void: 2 turned back near the trip, 1 too fast for these instruments. Draw on without turning back; more ballast steadies the hand.',
    )
  })

  test('what was left out of a test is told with its reason, whatever the verdict', () => {
    const leftOut = [{ step: 'closing-zero' as const, reason: 'in a hurry' }]
    expect(verdictLines(sampleResult(9), samplePart, { leftOut })[1]).toBe(
      'Within all limits, with margin, over 6 counted cycles; it acted in 8 of 8 strokes. Left out: closing zero (in a hurry).',
    )
  })

  test('a contact over its limit is said in ohms', () => {
    const contact = { medianOhm: 3.2, maxOhm: 4, uOhm: 0.1, poorShare: 0 }
    const limits = limit({ name: 'contact', lowPa: null, highPa: 2 })
    expect(lines({ verdict: 'fail', contact, limits })[1]).toBe(
      'The contact resistance is 3.20 ohm; the limit is 2 ohm.',
    )
  })

  test('too few cycles, a torn tail and a missing seal are reasons to be undecided', () => {
    const few = { ...sampleResult(9).make, n: 3 }
    const torn = { torn: true, corruptLines: [], seal: 'missing' as const }
    expect(lines({ verdict: 'undecided', make: few, damage: torn })[1]).toBe(
      'Cycles that count: 3; at least 5 are needed. The recording breaks off in the middle of a line.',
    )
    expect(lines({ verdict: 'undecided' })[1]).toBe('The test did not run to its end.')
  })

  test('damage voids with the line that is damaged', () => {
    const damage = { torn: false, corruptLines: [17], seal: 'broken' as const }
    const text = lines({ verdict: 'void', damage })
    expect(text[0]).toBe('Verdict: VOID')
    expect(text[1]).toBe('The recording is damaged at line 17. The seal does not match the recording.')
  })

  test('each finding stands with its effect, its code and its text as given', () => {
    const findings = [finding('fail', 'Single makes scatter by 3 Pa.'), finding('note', 'Meter changes range.')]
    const text = lines({ verdict: 'fail', findings })
    expect(text[1]).toBe('Single makes scatter by 3 Pa.')
    expect(text).toContain('Finding, fails the part: Single makes scatter by 3 Pa. (spread)')
    expect(text).toContain('Finding, note: Meter changes range. (spread)')
  })

  test('a result without any cycle has no made-up number', () => {
    const text = verdictLines(sampleResult(0, { firstStroke: { makePa: null, breakPa: null } }), samplePart)
    expect(text[0]).toBe('Verdict: UNDECIDED')
    expect(text[2]).toMatch(/^make +– inH2O +– Pa/)
    expect(text.join('\n')).not.toMatch(/NaN|null|undefined/)
  })

  test('control characters in a finding are shown, not sent', () => {
    const text = lines({ verdict: 'fail', findings: [finding('fail', 'a\x1b[2Jb')] })
    expect(text.join('')).not.toMatch(/\p{Cc}/u)
    expect(text[1]).toBe('a\\u001b[2Jb')
  })
})
