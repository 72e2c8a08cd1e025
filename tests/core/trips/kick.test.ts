import { describe, expect, test } from 'vitest'
import { kickSeen, tripSurface } from '../../../src/core/trips/kick.ts'
import type { RampModel, RampSample } from '../../../src/core/trips/ramp.ts'
import { responsesOf } from '../../../src/core/trips/response.ts'
import { createRandom } from '../../harness/foreign-recording.ts'

/** Nothing is known of the display. */
const any = responsesOf({ dampingS: Number.POSITIVE_INFINITY, easedS: Number.POSITIVE_INFINITY, coarse: false })
const model: RampModel = { noiseVar: 0.05 ** 2, q: 0.01 }
const [tripS, ratePaPerS, kickPa] = [5.037, 1.5, 3]

type Ramp = {
  direction?: 1 | -1
  dampingS?: number
  kick?: number
  fadeS?: number
  noisePa?: number
  everyS?: number
  seed?: number
}

/** A straight ramp of 10 s with a kick against it in the middle, seen through a first-order manometer. */
function readings({
  direction = 1,
  dampingS = 0,
  kick = kickPa,
  fadeS = Number.POSITIVE_INFINITY,
  noisePa = 0.05,
  everyS = 0.1,
  seed = 1,
}: Ramp): RampSample[] {
  const random = createRandom(seed)
  const out: RampSample[] = []
  for (let tS = 0.013; tS < 10; tS += everyS) {
    const sinceS = tS - tripS
    const share = sinceS < 0 ? 0 : dampingS === 0 ? 1 : 1 - Math.exp(-sinceS / dampingS)
    const left = kick * share * Math.exp(-Math.max(0, sinceS) / fadeS)
    const pressurePa = 60 + direction * (ratePaPerS * sinceS - left) + noisePa * random.normal()
    out.push({ tS, pressurePa, extraVar: 0 })
  }
  return out
}

function likeliest(samples: readonly RampSample[], direction: 1 | -1 = 1) {
  const surface = tripSurface(samples, 3, 7, direction, model, 12.5, any)
  let best = { logLik: Number.NEGATIVE_INFINITY, tS: 0, beforePa: 0, dampingS: 0 }
  for (const { tS, before, logLiks } of surface.cells)
    for (const [d, logLik] of logLiks.entries())
      if (logLik > best.logLik) best = { logLik, tS, beforePa: before.pPa, dampingS: any[d]!.delayS }
  return { ...best, surface }
}

describe('the kick dates a trip in the pressure stream', () => {
  test.each([1, -1] as const)('to within one reading, and its size is found (direction %i)', (direction) => {
    const { tS, beforePa, surface } = likeliest(readings({ direction }), direction)
    expect(Math.abs(tS - tripS)).toBeLessThan(0.1)
    expect(Math.abs(surface.kick.sizePa - kickPa)).toBeLessThan(0.15)
    // A fit through the kick would be low by a good part of it.
    expect(Math.abs(beforePa - 60)).toBeLessThan(0.25)
    expect(kickSeen(surface, model)).toBe(true)
  })

  // Neither time constant nor moment need fall on a grid: a gauge that is quiet against the grid's steps once hid the kick.
  test.each([0.02, 0.035, 0.08, 0.12, 0.2, 0.28, 0.5])(
    'behind a damping of %f s to within a reading, the ramp before it untouched',
    (dampingS) => {
      for (const seed of [1, 2, 3]) {
        const { tS, beforePa } = likeliest(readings({ dampingS, seed }))
        expect(Math.abs(tS - tripS)).toBeLessThan(0.1)
        expect(Math.abs(beforePa - 60)).toBeLessThan(0.25)
      }
    },
  )

  // Air that takes the temperature of its wall, a vent or the hand fill a kick up; a kick that stays for good once dated such trips a second late.
  test.each([0.3, 0.5, 1, 3, 10])('and where it fades with %f s to within two', (fadeS) => {
    for (const kick of [2, 6, 12])
      for (const seed of [1, 2, 3]) {
        const { tS, beforePa } = likeliest(readings({ kick, fadeS, seed }))
        expect(Math.abs(tS - tripS)).toBeLessThan(0.2)
        expect(Math.abs(beforePa - 60)).toBeLessThan(0.3)
      }
  })

  test.each([0.1, 0.2, 0.5])('and its shape tells a damping of %f s', (dampingS) => {
    const found = likeliest(readings({ dampingS, everyS: 0.05, noisePa: 0.02 })).dampingS
    expect(Math.abs(found - dampingS)).toBeLessThanOrEqual(Math.max(0.05, 0.25 * dampingS))
  })

  test('and only one against the ramp: a step the other way is none', () => {
    expect(kickSeen(likeliest(readings({ kick: -kickPa })).surface, model)).toBe(false)
  })

  test('and where there is none, or one that drowns in the noise, none is seen', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      expect(kickSeen(likeliest(readings({ kick: 0, seed })).surface, model)).toBe(false)
      // A plunger that jerks by half the trip's pressure is no switch.
      expect(kickSeen(likeliest(readings({ kick: 35, seed })).surface, model)).toBe(false)
      expect(kickSeen(likeliest(readings({ kick: 0.1, seed })).surface, model)).toBe(false)
    }
  })
})

// A change of pace for free at the kick once made the hand's own change of pace, 2.7 s away, the likelier kick.
test('A hand that slows down before the trip and hurries after it does not hide the kick.', () => {
  for (const seed of [1, 2, 3]) {
    const paced = readings({ direction: -1, seed }).map((s) => {
      const hurriedS = Math.max(0, tripS - 1.9 - s.tS) + Math.max(0, s.tS - tripS - 1.1)
      return { ...s, pressurePa: s.pressurePa + Math.sign(tripS - s.tS) * 4.5 * hurriedS }
    })
    const { tS, beforePa, surface } = likeliest(paced, -1)
    expect(Math.abs(tS - tripS)).toBeLessThan(0.15)
    expect(Math.abs(beforePa - 60)).toBeLessThan(0.5)
    expect(Math.abs(surface.kick.sizePa - kickPa)).toBeLessThan(0.4)
  }
})

test('Without readings around the range there is no moment to weigh.', () => {
  expect(tripSurface([], 0, 1, 1, model, 10, any).cells).toEqual([])
  expect(tripSurface(readings({}), 20, 21, 1, model, 10, any).cells).toEqual([])
})

test('The cells cover every gap between readings once, and their middles rise.', () => {
  const { cells } = tripSurface(readings({}), 4, 6, 1, model, 12.5, any)
  for (const [i, cell] of cells.entries()) {
    const next = cells[i + 1]
    if (next) expect(next.tS - next.widthS / 2).toBeCloseTo(cell.tS + cell.widthS / 2, 9)
    expect(cell.logLiks).toHaveLength(any.length)
  }
  expect(cells[0]!.tS - cells[0]!.widthS / 2).toBeLessThanOrEqual(4)
  expect(cells.at(-1)!.tS + cells.at(-1)!.widthS / 2).toBeGreaterThanOrEqual(6)
})
