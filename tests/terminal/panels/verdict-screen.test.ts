// What the screen shows of an ended test, as the text a person would read.
import { describe, expect, test } from 'vitest'
import type { Verdict } from '../../../src/core/model/result.ts'
import { verdictLines } from '../../../src/terminal/text/verdict-lines.ts'
import { samplePart, sampleResult } from '../sample-lives.ts'
import { large, screenOf, shownOf, small } from '../shown-screen.ts'

describe('viewOf an ended test', () => {
  test.each<[Verdict, string]>([
    ['pass', 'Within all limits'],
    ['fail', 'The findings say why.'],
    ['undecided', 'The test did not run to its end.'],
    ['void', 'The findings say why.'],
    ['not-assessed', 'Measured only'],
  ])('%s fills the view with reason, numbers and next step', (verdict, reason) => {
    for (const more of [{}, large, small]) {
      const screen = screenOf(shownOf({ phase: 'ended', result: sampleResult(9, { verdict }) }, more))
      expect(screen).toContain(reason)
      expect(screen).toContain('0.2473 ± 0.0021 inH2O')
      expect(screen).toContain('Next: ')
      expect(screen).toContain('Enter leave')
    }
  })

  test('what is left of a large screen shows the trace, the loop and the bands; at 80 × 24 all rows are for the words', () => {
    const ended = { phase: 'ended' as const, result: sampleResult(9) }
    const screen = screenOf(shownOf(ended, large))
    for (const text of ['▲≤0.28│', 'loop of 9 strokes', '━●━', '  9       0.2475']) expect(screen).toContain(text)
    expect(screen.split('\n').filter((row) => row.trim() === '').length).toBeLessThanOrEqual(6)
    expect(screenOf(shownOf(ended))).not.toContain('▲≤0.28│')
  })

  test.each([
    [60, 16],
    [60, 20],
    [76, 21],
    [80, 24],
    [140, 45],
  ])('at %i × %i reason and next step stand whole, whatever the verdict', (columns, rows) => {
    const undecided = sampleResult(9, { verdict: 'undecided' })
    undecided.make.valuePa = 55
    undecided.limits[0]!.outcome = 'undecided'
    const settlings = [{ quantity: 'make' as const, cycles: null, accuracyPa: 0.2999, largest: 'gauge' }]
    for (const result of [sampleResult(9), undecided, sampleResult(2), sampleResult(9, { verdict: 'not-assessed' })])
      for (const simulated of [false, true]) {
        const live = { phase: 'ended' as const, result, settlings, end: 'finished' as const }
        const text = screenOf(shownOf(live, { size: { columns, rows }, simulated })).replaceAll(/\s+/g, ' ')
        const told = verdictLines(result, samplePart, { ...live, simulated })
        expect(text).toContain(told[1]!)
        expect(text).toContain(told.at(-1)!)
      }
  })

  test('at 60 × 16 a pass still stands in letters of three rows', () => {
    const screen = screenOf(
      shownOf({ phase: 'ended', result: sampleResult(9) }, { size: { columns: 60, rows: 16 }, simulated: true }),
    )
    expect(screen).toContain('█▀█ ▄▀▄ █▀▀ █▀▀')
  })

  test('one finding that does not fit is counted as one', () => {
    const findings = [{ code: 'a', effect: 'void' as const, text: 'word '.repeat(60), evidence: {} }]
    const result = sampleResult(9, { verdict: 'void', findings })
    const screen = screenOf(shownOf({ phase: 'ended', result }, { size: { columns: 60, rows: 16 } }))
    expect(screen).not.toContain('1 findings')
  })

  test('many findings never push the numbers out: those left out are counted', () => {
    const findings = Array.from({ length: 30 }, (_, i) => ({
      code: `code-${i}`,
      effect: 'fail' as const,
      text: `Finding number ${i} with a sentence that goes on for a while to fill the row of the screen.`,
      evidence: {},
    }))
    const result = sampleResult(9, { verdict: 'fail', findings })
    const screen = screenOf(shownOf({ phase: 'ended', result }))
    expect(screen).toContain('0.2473 ± 0.0021 inH2O')
    expect(screen).toMatch(/ \d\d more findings in the recording/)
    expect(screenOf(shownOf({ phase: 'ended', result }, large))).toMatch(
      / Finding number 9 .*\n(.*\n)*.* \d+ more findings in/,
    )
    expect(screen).toContain('Enter leave')
  })

  test('a run that ended without a result stays on the panels and can be left', () => {
    const screen = screenOf(shownOf({ phase: 'ended', result: null }))
    expect(screen).toContain('ended')
    expect(screen).toContain('Enter leave')
  })
})
