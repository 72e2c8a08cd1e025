import { expect, test } from 'vitest'
import {
  atmospherePa,
  drawn,
  kickPa,
  type Pneumatics,
  pressurePerMl,
  slipPa,
  vented,
} from '../../src/simulation/pneumatics.ts'
import { pressureAt } from '../../src/simulation/response.ts'

const air: Pneumatics = {
  ballastL: 5,
  complianceM3PerPa: 1.6e-8,
  plungerMm2: 560,
  leakTauS: null,
  ventTauS: 0.3,
  hoseS: 0,
}

// Ideal gas: n · P0 / V, by hand: 101 325 Pa / 5 000 mL = 20.265; / 50 mL = 2 026.5; adiabatic air 1.4 times as much.
test('A closed volume answers a plunger by the ideal gas law.', () => {
  expect(pressurePerMl(5)).toBeCloseTo(20.265, 6)
  expect(pressurePerMl(0.05)).toBeCloseTo(2026.5, 6)
  expect(pressurePerMl(1, 1.4)).toBeCloseTo(141.855, 6)
})

// A bore of 26.7 mm: 0.1 mm of travel is 0.056 mL.
test('A slip of a tenth of a millimetre is a hundred times worse without ballast.', () => {
  expect(slipPa(0.1, air)).toBeCloseTo(0.056 * 20.265, 6)
  expect(slipPa(0.1, { ...air, ballastL: 0.05 })).toBeCloseTo(0.056 * 2026.5, 6)
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

test('An open vent and a leak fall by a factor e in their time constant, and a leak never makes draft grow.', () => {
  expect(pressureAt(vented(60, air), 0.3)).toBeCloseTo(60 / Math.E, 9)
  const leaking = drawn(60, 0, { ...air, leakTauS: 150 })
  expect(pressureAt(leaking, 150)).toBeCloseTo(60 / Math.E, 9)
  expect(pressureAt(leaking, 1)).toBeLessThan(60)
  // Steady draw against a leak comes to rest at rate × tau.
  expect(pressureAt(drawn(0, 0.4, { ...air, leakTauS: 150 }), 1e5)).toBeCloseTo(60, 6)
})
