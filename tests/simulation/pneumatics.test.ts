import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import {
  atmospherePa,
  hoseResistance,
  hoseTauS,
  kickPa,
  type Pneumatics,
  pressurePerMl,
  slipPa,
} from '../../src/simulation/pneumatics.ts'

const air: Pneumatics = { ...goodBench().truth.air, ballastL: 5 }

// Ideal gas: n · P0 / V, by hand: 101 325 Pa / 5 000 mL = 20.265; / 50 mL = 2 026.5; adiabatic air 1.4 times as much.
test('A closed volume answers a plunger by the ideal gas law.', () => {
  expect(pressurePerMl(5)).toBeCloseTo(20.265, 6)
  expect(pressurePerMl(0.05)).toBeCloseTo(2026.5, 6)
  expect(pressurePerMl(1, 1.4)).toBeCloseTo(141.855, 6)
})

// A bore of 26.7 mm: 0.1 mm of travel is 0.056 mL, on 5 L and a diaphragm that gives 1.6e-8 m³/Pa: 5.6e-8 / (4.93e-8 + 1.6e-8).
test('A slip of a tenth of a millimetre is several times worse without ballast.', () => {
  expect(slipPa(0.1, air)).toBeCloseTo(0.056e-6 / (5e-3 / atmospherePa + 1.6e-8), 2)
  expect(slipPa(0.1, { ...air, ballastL: 0.05 })).toBeGreaterThan(3.5 * slipPa(0.1, air))
})

// Boyle's law, solved by bisection: the same air before and after the diaphragm has moved by D · Cd at a falling pressure.
test('The kick is what the same amount of air has left after the diaphragm jumped.', () => {
  for (const [ballastL, complianceM3PerPa, differentialPa] of [
    [5, 1.6e-8, 15],
    [1, 1.6e-8, 15],
    [6.5, 3e-8, 25],
  ] as const) {
    const volumeM3 = ballastL * 1e-3
    const makePa = 62
    const airLeft = (lossPa: number) =>
      (atmospherePa - makePa + lossPa) * (volumeM3 - complianceM3PerPa * (differentialPa - lossPa))
    let low = 0
    let high: number = differentialPa
    for (let i = 0; i < 100; i++) {
      const middle = (low + high) / 2
      if (airLeft(middle) < (atmospherePa - makePa) * volumeM3) low = middle
      else high = middle
    }
    expect(kickPa(differentialPa, { ...air, ballastL, complianceM3PerPa }) / low).toBeCloseTo(1, 2)
  }
})

test('The kick is nearly the whole differential without ballast and never more.', () => {
  const bare = kickPa(15, { ...air, ballastL: 0.05 })
  expect(bare).toBeGreaterThan(14)
  expect(bare).toBeLessThan(15)
  expect(kickPa(15, { ...air, ballastL: 1000 })).toBeLessThan(0.1)
})

// Hagen and Poiseuille by hand: 128 · 1.82e-5 Pa·s · 1 m / (pi · (4.8 mm)^4) = 1.397e6; half the bore is 16 times as much.
test('A hose resists by its length and by the fourth power of its bore; clean and short it delays by hundredths of a second.', () => {
  expect(hoseResistance({ lengthM: 1, boreMm: 4.8 }) / 1.397e6).toBeCloseTo(1, 2)
  expect(hoseResistance({ lengthM: 1, boreMm: 2.4 }) / hoseResistance({ lengthM: 1, boreMm: 4.8 })).toBeCloseTo(16, 9)
  expect(hoseTauS(air)).toBeGreaterThan(0.015)
  expect(hoseTauS(air)).toBeLessThan(0.03)
  expect(hoseTauS({ ...air, hoseS: 1.5 })).toBeCloseTo(1.5, 9)
})

// n = 1.4 and n = 1 in D · Cd / (Cd + V/(n · P0)).
test('The kick begins larger than it ends: the air has not yet taken the wall’s temperature.', () => {
  expect(kickPa(15, air, 1.4)).toBeCloseTo((15 * 1.6e-8) / (1.6e-8 + 5e-3 / (1.4 * 101_325)), 9)
  expect(kickPa(15, air, 1.4) / kickPa(15, air)).toBeGreaterThan(1.2)
})
