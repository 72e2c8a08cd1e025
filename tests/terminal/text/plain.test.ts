import { describe, expect, test } from 'vitest'
import type { Live } from '../../../src/core/view/live.ts'
import { createPlain } from '../../../src/terminal/text/plain.ts'
import { sampleLive, samplePart, sampleResult } from '../sample-lives.ts'

function plainOf(states: readonly Live[]): string[] {
  const lines: string[] = []
  const tell = createPlain((line) => lines.push(line))
  for (const state of states) tell(state, samplePart)
  return lines
}

const calm = (elapsedS: number, change: Partial<Live> = {}) =>
  sampleLive(elapsedS, { trips: [], result: null, ...change })

describe('createPlain', () => {
  test('tells links and phase with the next step, once', () => {
    const states = [calm(1), calm(2), calm(3)]
    expect(plainOf(states)).toEqual([
      '0:01  Link: manometer open.',
      '0:01  Link: meter open.',
      '0:01  Phase: first stroke.',
      '0:01  Next: Draw slowly and evenly through the make, then let down just as slowly.',
    ])
  })

  test('tells the next step again only when it changes', () => {
    const lines = plainOf([calm(5), calm(6, { next: 'Let down slowly.' }), calm(7, { next: 'Let down slowly.' })])
    expect(lines.slice(4)).toEqual(['0:06  Next: Let down slowly.'])
  })

  test('a stroke without a trip says which was not seen', () => {
    const result = sampleResult(4)
    result.cycles[3] = { ...result.cycles[3]!, breakPa: null, used: false, why: 'no-break' }
    expect(plainOf([calm(120, { result })])).toContain(
      '2:00  Stroke 4: make 0.2468 inH2O (61.49 Pa), break not seen; no break.',
    )
  })

  test('tells each stroke with its trips in the unit of the part and in pascal, and again when it no longer counts', () => {
    const counted = sampleResult(4)
    const discarded = sampleResult(4)
    discarded.cycles[3] = { ...discarded.cycles[3]!, used: false, why: 'discarded' }
    const lines = plainOf([
      calm(120, { result: counted }),
      calm(121, { result: counted }),
      calm(130, { result: discarded }),
    ])
    const cycles = lines.filter((line) => line.includes('Stroke 4'))
    expect(cycles).toEqual([
      '2:00  Stroke 4: make 0.2468 inH2O (61.49 Pa), break 0.1895 inH2O (47.21 Pa); counted.',
      '2:10  Stroke 4: make 0.2468 inH2O (61.49 Pa), break 0.1895 inH2O (47.21 Pa); discarded.',
    ])
  })

  test('tells an alarm when it comes and when it goes', () => {
    const lines = plainOf([
      calm(5),
      calm(6, { alarm: 'Let off: 150 Pa.' }),
      calm(7, { alarm: 'Let off: 150 Pa.' }),
      calm(8),
    ])
    expect(lines.slice(4)).toEqual(['0:06  ALARM: Let off: 150 Pa.', '0:08  The alarm is over.'])
  })

  test('tells a lost link, a finding once, and the verdict once at the end', () => {
    const links = sampleLive(1).links.map((link) => ({ ...link, state: 'lost' as const }))
    const finding = { code: 'spread', effect: 'fail' as const, text: 'Single makes scatter.', evidence: {} }
    const result = sampleResult(9, { verdict: 'fail', findings: [finding] })
    const lines = plainOf([
      calm(5),
      calm(6, { links }),
      calm(300, { links, phase: 'ended', result }),
      calm(301, { links, phase: 'ended', result }),
    ])
    expect(lines).toContain('0:06  Link: meter LOST.')
    expect(
      lines.filter((line) => line.includes('Finding, fails the part: Single makes scatter. (spread)')),
    ).toHaveLength(2)
    expect(lines.filter((line) => line === 'Verdict: FAIL')).toHaveLength(1)
    expect(lines.at(-1)).toMatch(/^Next: Mark the part, set it apart/)
  })

  test('each event is one line without any control character', () => {
    const hostile = 'a\x1b[2J\r\nb'
    const lines = plainOf([calm(5, { alarm: hostile, next: hostile })])
    expect(lines.join('')).not.toMatch(/\p{Cc}/u)
    expect(lines).toContain('0:05  ALARM: a\\u001b[2J b')
  })
})
