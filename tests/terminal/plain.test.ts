import { describe, expect, test } from 'vitest'
import type { Live } from '../../src/core/live.ts'
import { createPlain } from '../../src/terminal/plain.ts'
import { sampleLive, samplePart, sampleResult } from './sample-lives.ts'

function plainOf(states: readonly Live[]): string[] {
  const lines: string[] = []
  const tell = createPlain((line) => lines.push(line), samplePart)
  for (const state of states) tell(state)
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

  test('tells each trip once, in the unit of the part and in pascal', () => {
    const make = { tS: 9.5, stroke: 1, transition: 'make' as const, pressurePa: 61.6 }
    const back = { tS: 17, stroke: 1, transition: 'break' as const, pressurePa: null }
    const lines = plainOf([
      calm(5),
      calm(10, { trips: [make] }),
      calm(11, { trips: [make] }),
      calm(18, { trips: [make, back] }),
    ])
    expect(lines.slice(4)).toEqual([
      '0:10  Stroke 1: make at 0.2473 inH2O (61.60 Pa).',
      '0:18  Stroke 1: break at not determined.',
    ])
  })

  test('tells each cycle when it is there, and again when it no longer counts', () => {
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
      lines.filter((line) => line.includes('Finding, fails the part: spread: Single makes scatter.')),
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
