// What the screen shows for made-up states, as the text a person would read.

import { describe, expect, test } from 'vitest'
import type { Step } from '../../../src/core/guide/step.ts'
import { cautionsOf } from '../../../src/core/model/cautions.ts'
import type { ContactState } from '../../../src/core/model/samples.ts'

import { viewOf } from '../../../src/terminal/panels/view.ts'
import { bareText, lineWidth } from '../../../src/terminal/text/line.ts'
import { openResult, sampleGuide, sampleLive, samplePart, sampleResult } from '../sample-lives.ts'
import { large, screenOf, shownOf, small } from '../shown-screen.ts'

describe('viewOf a running test', () => {
  test('at 80 × 24 shows every essential', () => {
    const screen = screenOf(shownOf())
    for (const text of [
      'certify HT-25 T0042',
      'cycles  1/6  2:17',
      '✓ zero ✓ first – precond.  ► cycles 1/6    hold   zero   verdict',
      '█ █ █▀▄ █▀█ █▄▀▄█                   then let down just as slowly.',
      '██████        ██    ██████  ██████',
      'inH2O (  45.5 Pa)  ▼ 0.0261 inH2O/s',
      'at rest  ∞ ohm  contact open',
      '━━━█━━━━━━━━░░░░░░░   1.20 Pa/s  good pace',
      'to the make 0.067 inH2O   at this rate ±0.4 Pa, margin 3.0 Pa: fine',
      '✓ make  0.2473 ±0.0021   61.60 ±0.52',
      '  4  0.2468  0.1895  ✓ counted',
      '  2  0.2478  0.1885  · preconditioning',
      '▲≤0.28│╌',
      '  switch ▁',
      'manometer ● open 10.0/s   meter ● open 5.0/s',
      'recorded 124 kB',
      '? help',
    ])
      expect(screen).toContain(text)
  })

  test('at 80 × 24 the steps that are over give up their names, so that the verdict is in sight', () => {
    const step = (name: Step['name'], state: Step['state'], progress: Step['progress'] = null) => ({
      name,
      state,
      progress,
    })
    const steps: Step[] = [
      step('cautions', 'done'),
      step('zero', 'done'),
      step('first-stroke', 'done'),
      step('precondition', 'done'),
      step('pinch', 'skipped'),
      step('hold', 'done'),
      step('cycles', 'now', { done: 1, wanted: 6, of: 'strokes' }),
      step('fast-cycles', 'todo'),
      step('closing-zero', 'todo'),
      step('verdict', 'todo'),
    ]
    const screen = screenOf(shownOf({ guide: sampleGuide({ steps }) }))
    expect(screen).toContain(' ✓ ✓ ✓ ✓ – ✓  ► cycles 1/6    faster   zero   verdict')
  })

  test('at 140 × 45 also shows the steps, the limits and the findings', () => {
    const findings = [{ code: 'spread', effect: 'fail' as const, text: 'Single makes scatter by 3 Pa.', evidence: {} }]
    const screen = screenOf(shownOf({ result: sampleResult(4, { findings }) }, large))
    expect(screen).toContain('✓ first stroke  – preconditioning   ► cycles 1/6     hold    closing zero')
    expect(screen).toMatch(/✓ differential 0\.0582 ±0\.0021 +14\.50 ±0\.52 +0\.01 to 0\.09 +pass/)
    expect(screen).toContain('fails the part: Single makes scatter by 3 Pa.')
  })

  test('below 60 × 16 says the same in lines, the most needed first', () => {
    const rows = screenOf(shownOf({ alarm: 'Let off: 150 Pa on the switch.' }, small)).split('\n')
    expect(rows[0]).toBe('ALARM: Let off: 150 Pa on the switch.')
    expect(rows[1]).toBe('0.183 inH2O (45.5 Pa), rate -6.50 Pa/s, good pace')
    expect(rows[2]).toBe('contact open, at rest, ∞ ohm')
    expect(rows[3]).toMatch(/^Next: DRAW\. Draw slowly/)
    expect(rows).toContain('to the make: 0.067 inH2O to go')
    expect(rows).toContain('at this rate ±0.4 Pa, margin 3.0 Pa: fine')
    expect(rows).toContain('cycles 1 of 6 strokes, 2:17')
    expect(rows.findLast((row) => row !== '')).toMatch(/z zero .*\? help$/)
  })

  test('at 50 × 14 every caution stands whole above the rest', () => {
    const cautions = [...cautionsOf('certify')]
    const screen = screenOf(shownOf({ guide: sampleGuide({ cautions, step: 'cautions', action: 'read' }) }, small))
    const text = screen.replaceAll(/\s+/g, ' ')
    expect(text).toMatch(/^Enter says/)
    for (const caution of cautions) expect(text).toContain(caution.text)
    expect(text).toContain('0.183 inH2O')
    expect(text).toContain('Enter understood')
  })

  test.each([
    [60, 16],
    [76, 21],
    [80, 24],
    [100, 30],
    [140, 45],
  ])('at %i × %i too, over whatever else would stand there', (columns, rows) => {
    for (const purpose of ['certify', 'return', 'check-switch'] as const) {
      const cautions = [...cautionsOf(purpose)]
      const guide = sampleGuide({ cautions, step: 'cautions', action: 'read' })
      const shown = { ...shownOf({ guide }, { size: { columns, rows } }), opening: ['This rig can decide the part.'] }
      const text = screenOf(shown).replaceAll(/\s+/g, ' ')
      for (const caution of cautions) expect(text).toContain(caution.text)
      expect(text).toContain('Enter all of this is understood')
      expect(text).toContain('z zero')
      if (rows >= 24) expect(text).toContain('This rig can decide the part. Before the first stroke')
      // What does not fit of it says so.
      const long = screenOf({ ...shown, opening: Array(12).fill('It can decide the part.') }).replaceAll(/\s+/g, ' ')
      const told = long.match(/decide the part\./g)?.length ?? 0
      if (told > 0 && told < 12) expect(long).toMatch(/… Before the first stroke/)
    }
  })

  test('on a screen of a few cells nothing fails', () => {
    for (const [columns, rows] of [
      [1, 1],
      [5, 2],
      [20, 4],
      [59, 60],
      [200, 15],
    ] as const)
      expect(viewOf(shownOf({}, { size: { columns, rows } })).length).toBe(1)
  })

  test('before the first state says that it waits', () => {
    const screen = screenOf(shownOf({}, { live: null }))
    expect(screen).toContain('waiting for readings')
    expect(screen).toContain('► Waiting for the instruments.')
    expect(screen).toContain('no instrument opened yet')
    expect(screen).toContain('no stroke yet')
    expect(screen).not.toMatch(/NaN|null|undefined|Infinity/)
  })

  test('an alarm stands above the next step, in every view', () => {
    for (const more of [{}, large, small]) {
      const screen = screenOf(shownOf({ alarm: 'Let off: 150 Pa on the switch.' }, more))
      const alarm = screen.indexOf('Let off: 150 Pa')
      expect(alarm).toBeGreaterThanOrEqual(0)
      expect(alarm).toBeLessThan(screen.indexOf('Draw slowly'))
    }
  })

  test.each<[ContactState, boolean | null, string]>([
    ['closed', true, 'actuated'],
    ['open', false, 'at rest'],
    ['no-closed', true, 'NO closed, NC open'],
    ['nc-closed', false, 'NC closed, NO open'],
    ['neither', null, 'NO and NC both open'],
    ['both', null, 'NO and NC both closed'],
    ['lead-off', null, 'a lead is off'],
    ['shorted', null, 'leads shorted together'],
    ['unknown', null, 'contact unknown'],
  ])('contact %s with position %s is told in words: %s', (contact, actuated, words) => {
    expect(screenOf(shownOf({ contact, actuated, ohm: null }, large))).toContain(words)
    expect(screenOf(shownOf({ contact, actuated, ohm: null }, small))).toContain(words)
  })

  test('the actuated switch has a filled block, the one at rest a frame: told apart without colour', () => {
    const tones = (actuated: boolean) =>
      viewOf(shownOf({ actuated }))
        .flatMap((region) => region.lines.flat())
        .filter((s) => s.tone === 'filled').length
    expect(tones(true)).toBeGreaterThan(3)
    expect(tones(false)).toBe(0)
    expect(screenOf(shownOf({ actuated: false }))).toContain('╭──')
  })

  test('a lost link and what could not be read are told at the foot', () => {
    const link = { port: 'meter' as const, state: 'lost' as const, readingsPerS: null, faults: 7, lastFault: 'abc' }
    expect(screenOf(shownOf({ links: [link] }))).toContain('meter ✗ LOST 7 unread (abc)')
    // Where not all fits, why goes before any port does.
    const long = { ...link, port: 'manometer' as const, lastFault: 'bytes that are not text '.repeat(5) }
    expect(screenOf(shownOf({ links: [long, link] }))).toMatch(/manometer ✗ LOST 7 unread {3}meter ✗ LOST 7 unread/)
  })

  test('a simulated bench says so in every view', () => {
    const ended = { phase: 'ended' as const, result: sampleResult(9) }
    for (const change of [{}, ended])
      for (const more of [{}, large, small])
        expect(screenOf(shownOf(change, { simulated: true, ...more }))).toMatch(/SIMULATED/)
  })

  test('a finding has a row at every size once there is one, with how many there are', () => {
    const finding = (text: string) => ({ code: 'reversal', effect: 'void' as const, text, evidence: {} })
    const findings = [finding('Two strokes turned back.'), finding('Another.')]
    for (const [columns, rows] of [
      [60, 16],
      [80, 24],
    ] as const) {
      const size = { columns, rows }
      const screen = screenOf(shownOf({ result: sampleResult(4, { findings }), guide: null }, { size }))
      expect(screen).toContain('voids the test (1 of 2 findings): Two strokes turned back.')
      expect(screen).toMatch(/diff\.? +0\.0582 ±0\.0021/)
      expect(screenOf(shownOf({ result: sampleResult(4) }, { size }))).not.toContain('finding')
    }
  })

  test('what lag or leak leave open beside U is told in words below the numbers, and at 60 × 16 as its side', () => {
    const result = openResult(5)
    const words = (more: Parameters<typeof shownOf>[1]) => screenOf(shownOf({ result }, more)).replaceAll(/\s+/g, ' ')
    const normal = words({})
    expect(normal).toContain('Lag or leak: make 0.0145 lower, break')
    expect(normal).toContain('0.0145 higher, diff. 0.0289 lower')
    expect(words(large)).toContain('Lag or leak: make 0.0145 inH2O (3.60 Pa) lower, break 0.0145 inH2O')
    const least = words({ size: { columns: 60, rows: 16 } })
    expect(least).toContain('make 0.2473 ±0.0021 61.60 ±0.52 or lower')
    expect(least).toContain('break 0.1891 ±0.0021 47.10 ±0.52 or higher')
    expect(words(small)).toContain('Lag or leak not ruled out: make up to 0.0145 inH2O (3.60 Pa) lower')
    expect(screenOf(shownOf())).not.toContain('Lag or leak')
  })

  test('the verdict says it too, at every size', () => {
    for (const more of [{}, large, small, { size: { columns: 60, rows: 16 } }]) {
      const screen = screenOf(shownOf({ phase: 'ended', result: openResult(9) }, more)).replaceAll(/\s+/g, ' ')
      expect(screen).toContain('Lag or leak not ruled out: make up to 0.0145 inH2O (3.60 Pa) lower; break up to')
    }
  })

  test('what was not measured yet is not called undecided', () => {
    const limits = sampleResult(1).limits.map((l) => ({ ...l, outcome: 'undecided' as const }))
    const screen = screenOf(shownOf({ result: sampleResult(1, { limits }) }, large))
    expect(screen).toMatch(/make +– +– +0\.22 to 0\.28 +not yet/)
    expect(screen).not.toContain('undecided')
  })

  test('units and rates under the digits stay the same while the numbers change', () => {
    const captions = [-0.4, 0, 3.2, 61.7, 123.4].map((pressurePa) => {
      const screen = screenOf(shownOf({ pressurePa, ratePaPerS: pressurePa / 8 }, large))
      return screen
        .split('\n')
        .find((row) => row.startsWith(' inH2O ('))!
        .replaceAll(/[-\d.]+(?= )|[▲▼=](?= )/g, (text) => ' '.repeat(text.length))
        .slice(0, 60)
    })
    expect(new Set(captions).size).toBe(1)
  })

  test('counts past the number wanted without a nonsense of 7 of 6', () => {
    expect(screenOf(shownOf({ used: 6 }, large))).toContain('6 of 6 counted')
    expect(screenOf(shownOf({ used: 7 }, large))).toContain('cycles  7 counted')
    const guide = sampleGuide()
    const steps = guide.steps.map((s) =>
      s.name === 'cycles' ? { ...s, progress: { done: 7, wanted: 6, of: 'strokes' as const } } : s,
    )
    expect(screenOf(shownOf({ used: 7, guide: { ...guide, steps } }))).toMatch(/► cycles 6\/6 .*/)
    expect(screenOf(shownOf({ used: 7, guide: { ...guide, steps } }))).toContain('cycles  7 counted')
  })

  test('the large digits stand still when the pressure crosses zero', () => {
    const digits = (pressurePa: number) => screenOf(shownOf({ pressurePa }, large)).split('\n').slice(7, 15)
    const column = (rows: string[]) => rows.map((row) => row.slice(13, 70))
    expect(column(digits(-0.3))).toEqual(column(digits(0.3)))
    expect(digits(-0.3)).not.toEqual(digits(0.3))
  })

  test('a part rated in pascal shows no second unit', () => {
    const part = { ...samplePart, rated: { value: 62, unit: 'Pa' as const, on: 'make' as const }, limits: null }
    const screen = screenOf(shownOf({}, { part }))
    expect(screen).toContain('Pa  ▼  6.50 Pa/s')
    expect(screen).not.toContain('inH2O')
  })
})

test('no line is wider or lower than its region, whatever the texts hold', () => {
  const nasty = `\x1b[31m${'長い名前 '.repeat(60)}\u202e😀\u0000`
  const links = sampleLive(1).links.map((link) => ({ ...link, faults: 9, lastFault: nasty }))
  const finding = { code: nasty, effect: 'fail' as const, text: nasty, evidence: {} }
  for (const phase of ['cycles', 'ended'] as const)
    for (let columns = 1; columns <= 160; columns += 7)
      for (const rows of [1, 2, 10, 16, 24, 33, 45]) {
        const result = sampleResult(9, { verdict: 'fail', findings: [finding, finding] })
        const shown = shownOf(
          { phase, links, alarm: nasty, next: nasty, result, pressurePa: -123456.7, ohm: 1e9 },
          { title: nasty, size: { columns, rows } },
        )
        for (const { rect, lines } of viewOf(shown)) {
          expect(lines.length).toBeLessThanOrEqual(rect.height)
          for (const l of lines) {
            expect(lineWidth(l)).toBeLessThanOrEqual(rect.width)
            expect(bareText(l)).not.toMatch(/\p{C}/u)
          }
        }
      }
})
