// The panels that guide the hand, as drawings: rate bar, way to the next point, bands, the loop, cautions; and the bell.

import { describe, expect, test } from 'vitest'
import type { Band, Guide } from '../../src/core/guide/guidance.ts'
import { createBell } from '../../src/terminal/bell.ts'
import { drawBand } from '../../src/terminal/panels/band-panel.ts'
import { handLines, rateBar } from '../../src/terminal/panels/hand-panel.ts'
import { loopLines } from '../../src/terminal/panels/loop-panel.ts'
import { cautionLines, sayLines } from '../../src/terminal/panels/say-panel.ts'
import { initialScreen } from '../../src/terminal/panels/screen-state.ts'
import type { Shown } from '../../src/terminal/panels/shown.ts'

import { bareText } from '../../src/terminal/text/line.ts'
import { sampleGuide, sampleLive, samplePart, sampleResult } from './sample-lives.ts'

const shownWith = (guide: Partial<Guide>, more: Partial<Shown> = {}): Shown => ({
  live: sampleLive(137, { guide: sampleGuide(guide), pressurePa: 45.5 }),
  part: samplePart,
  title: 't',
  simulated: false,
  size: { columns: 140, rows: 45 },
  screen: initialScreen,
  marks: true,
  ends: true,
  dots: 'braille',
  calm: false,
  ...more,
})
const hand = (guide: Partial<Guide>, width = 120, height = 3) =>
  handLines(shownWith(guide), { x: 0, y: 0, width, height }).map((l) => bareText(l).trimEnd())

describe('rateBar', () => {
  // A quarter of the low end to four times the high one, in equal steps of the logarithm.
  const band = { lowPaPerS: 1, mostPaPerS: 4 }
  test.each([
    [0, '█······━━━━━━━━░░░░░░░'],
    [0.25, '█······━━━━━━━━░░░░░░░'],
    [0.9, '······█━━━━━━━━░░░░░░░'],
    [2, '·······━━━━█━━━░░░░░░░'],
    [16, '·······━━━━━━━━░░░░░░█'],
    [1000, '·······━━━━━━━━░░░░░░█'],
  ])('a hand at %d Pa/s', (nowPaPerS, drawn) => {
    expect(bareText(rateBar({ ...band, nowPaPerS }, 22))).toBe(drawn)
  })

  test('a let-down counts like a draw of the same pace', () => {
    expect(rateBar({ ...band, nowPaPerS: -2 }, 22)).toEqual(rateBar({ ...band, nowPaPerS: 2 }, 22))
  })
})

describe('handLines', () => {
  test('tells pace, the way to the next point and what the pace costs', () => {
    const [rate, way, cost] = hand({})
    expect(rate).toMatch(/^ rate +·+━+█━+░+ +1\.20 Pa\/s {2}good pace$/)
    expect(way).toMatch(/^ to the make +█+░+ {2}0\.067 inH2O \(16\.8 Pa\)$/)
    expect(cost).toBe(' at this rate ±0.4 Pa, margin 3.0 Pa: fine')
  })

  test('a pace that costs too much, and a tremor, say what to do', () => {
    expect(hand({ error: { errorPa: 4, marginPa: 3, exceeds: 'margin' } })[2]).toBe(
      ' at this rate ±4.0 Pa, margin 3.0 Pa: too much, go slower',
    )
    expect(hand({ error: { errorPa: 1, marginPa: 3, exceeds: 'instruments' } })[2]).toBe(
      ' at this rate ±1.0 Pa, margin 3.0 Pa: faster than the instruments follow',
    )
    expect(hand({ ballast: { tremorPa: 3.2, litres: 5 } })[2]).toBe(
      ' tremor of ±3.2 Pa eats the margin: add ballast, 5 L in all',
    )
  })

  test('in a faster stroke its own pace is told in numbers, at both sizes', () => {
    const rate = {
      lowPaPerS: 2.4,
      aimPaPerS: 3,
      mostPaPerS: 16,
      nowPaPerS: 1.2,
      pace: 'too-slow',
      nearTrip: true,
    } as const
    const told = 'faster stroke: 0.012 inH2O/s, from 0.0096 to 0.064'
    const guide = { step: 'fast-cycles', rate, error: null } as const
    expect(hand(guide)[2]).toBe(` ${told}`)
    expect(hand(guide, 80, 2)[1]).toBe(` to the make 0.067 inH2O   ${told}`)
    expect(hand({ ...guide, target: null })[2] ?? '').not.toContain('faster')
  })

  test('a hold counts its seconds, a rest the progress of its step', () => {
    expect(hand({ action: 'hold', step: 'hold', heldS: 4.7 })[1]).toMatch(/^ held +█+░+ {2}4 of /)
    expect(hand({ target: null, error: null })[1]).toMatch(/^ cycles +█+░+ {2}1 of 6 strokes$/)
  })

  test('two rows of 78 cells hold the way and the cost together', () => {
    const rows = hand({}, 80, 2)
    expect(rows).toHaveLength(2)
    expect(rows[1]).toBe(' to the make 0.067 inH2O   at this rate ±0.4 Pa, margin 3.0 Pa: fine')
    const slower = hand({ error: { errorPa: 2.9, marginPa: 3, exceeds: 'margin' } }, 80, 2)
    expect(slower[1]).toBe(' to the make 0.067 inH2O   ±2.9 Pa, margin 3.0 Pa: too much, go slower')
  })

  test('where nothing is guided there is nothing', () => {
    const live = sampleLive(1, { guide: null })
    expect(handLines({ ...shownWith({}), live }, { x: 0, y: 0, width: 80, height: 3 })).toEqual([])
  })
})

describe('drawBand', () => {
  const band = (change: Partial<Band>): Band => ({
    name: 'make',
    limit: { lowPa: 50, highPa: 70 },
    accept: { lowPa: 54, highPa: 66 },
    valuePa: 60,
    UPa: 2,
    allowLowPa: 0,
    allowHighPa: 0,
    ...change,
  })
  const drawn = (change: Partial<Band>) => bareText(drawBand(band(change), 60, 29))

  test('limits, guards, and the value with its uncertainty', () => {
    expect(drawn({})).toBe('    │▒▒▒╌╌╌╌━━●━━╌╌╌╌▒▒▒│    ')
  })

  test('what lag or leak leave open goes on from U by another sign, on its side', () => {
    expect(drawn({ allowLowPa: 4 })).toBe('    │▒▒▒┅┅┅┅━━●━━╌╌╌╌▒▒▒│    ')
    expect(drawn({ allowHighPa: 4 }).match(/┅/g)?.length).toBe(drawn({ allowLowPa: 4 }).match(/┅/g)?.length)
    expect(drawn({ allowHighPa: 4 }).indexOf('┅')).toBeGreaterThan(drawn({ allowHighPa: 4 }).indexOf('●'))
  })

  test('before a value is had the guards are not known', () => {
    expect(drawn({ valuePa: null, UPa: null, accept: null })).not.toMatch(/[▒●━]/)
  })

  test('where nothing could pass all between the limits is guard', () => {
    expect(drawn({ accept: null, UPa: 15 })).not.toContain('╌')
  })

  test('a value far outside stands at the edge and not beyond it', () => {
    for (const valuePa of [-500, 500]) expect(drawn({ valuePa })).toHaveLength(29)
    expect(drawn({ valuePa: 500 }).at(-1)).toBe('●')
  })

  test('a side without a limit is open', () => {
    const text = drawn({ limit: { lowPa: 50, highPa: null }, accept: { lowPa: 54, highPa: null } })
    expect(text.match(/│/g)).toHaveLength(1)
    expect(text).toHaveLength(29)
  })
})

describe('loopLines', () => {
  const rect = { x: 0, y: 0, width: 64, height: 6 }
  test('makes stand right of breaks, joined to the two levels, with the limits below', () => {
    const rows = loopLines(shownWith({}), rect).map(bareText)
    expect(rows).toHaveLength(6)
    const [, top, middle, , bottom, scale] = rows
    const [make, back] = [bottom!.indexOf('▲'), top!.indexOf('▼')]
    expect(back).toBeGreaterThan(9)
    expect(make).toBeGreaterThan(back)
    expect(middle!.trim()).toMatch(/^\S +\S$/)
    expect([middle![back], middle![make]]).not.toContain(' ')
    expect(scale).toContain('▲≤0.28')
  })

  test('before the first stroke there is only the place where it stands', () => {
    const live = sampleLive(1, { result: sampleResult(0), pressurePa: 30, actuated: false })
    const rows = loopLines({ ...shownWith({}), live }, rect).map(bareText)
    expect(rows.join('')).toMatch(/at rest {2} +●/)
    expect(rows.join('')).not.toMatch(/[│─]|▼(?!≥)/)
  })

  test('too small a place gives nothing', () => {
    expect(loopLines(shownWith({}), { ...rect, height: 4 })).toEqual([])
    expect(loopLines(shownWith({}), { ...rect, width: 20 })).toEqual([])
  })
})

describe('sayLines', () => {
  const rect = { x: 0, y: 0, width: 78, height: 3 }
  test('the sentence begins at the same place for every action', () => {
    const places = (['wait', 'draw', 'let-down', 'stop', 'slower'] as const).map((action) =>
      bareText(sayLines(shownWith({ action }), rect)[0]!).indexOf('►'),
    )
    expect(new Set(places).size).toBe(1)
    expect(places[0]).toBeGreaterThan(30)
  })

  test('the reason of a skip is asked with the name of the step and what the skip costs', () => {
    const screen = { ...initialScreen, mode: 'skip' as const, skips: 'hold' as const, draft: 'no cl' }
    const rows = sayLines(shownWith({}, { screen }), rect).map(bareText)
    expect(rows[0]).toMatch(/Why skip the step "hold"\? no cl $/)
    expect(rows.join(' ')).toContain('Without the hold a leak cannot be ruled out: near a limit the test stays')
    // Where there is room for it what the hands do stays there meanwhile.
    const roomy = sayLines(shownWith({}, { screen }), { ...rect, width: 138, height: 5 }).map(bareText)
    expect(roomy.join(' ')).toContain('► Draw')
    expect(roomy.join(' ')).toContain('Without the hold')
  })

  test('cautions are whole, and end with the key that says they were read', () => {
    const cautions = [{ name: 'x', text: 'Mains off. '.repeat(20).trim() }]
    const text = cautionLines(shownWith({ cautions }), 60).map(bareText)
    expect(text[1]).toMatch(/^ ! {2}Mains off\./)
    expect(
      text
        .slice(1, -1)
        .join(' ')
        .match(/Mains off\./g),
    ).toHaveLength(20)
    expect(text.at(-1)).toMatch(/^ Enter /)
  })
})

describe('createBell', () => {
  const ringsFor = async (states: readonly (boolean | null)[], phase: 'cycles' | 'ended' = 'cycles') => {
    let rung = ''
    const bell = createBell((bytes) => {
      rung += bytes
    })
    for (const actuated of states) bell(sampleLive(1, { actuated, phase }))
    await new Promise((done) => setTimeout(done, 400))
    return rung.length
  }
  test('one at make, two at break, none for a state that was always so', async () => {
    expect(await ringsFor([false, false])).toBe(0)
    expect(await ringsFor([false, true, true])).toBe(1)
    expect(await ringsFor([true, null, false])).toBe(2)
    expect(await ringsFor([null, true])).toBe(0)
    expect(await ringsFor([false, true], 'ended')).toBe(0)
  })
  test('three when an instrument is lost, once', async () => {
    let rung = ''
    const bell = createBell((bytes) => {
      rung += bytes
    })
    const lives = (['draw', 'lost', 'lost', 'draw'] as const).map((action) =>
      sampleLive(1, { actuated: false, phase: 'cycles', guide: { ...sampleGuide(), action } }),
    )
    for (const live of lives) bell(live)
    await new Promise((done) => setTimeout(done, 700))
    expect(rung).toHaveLength(3)
  })
})
