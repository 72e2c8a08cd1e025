import { expect, test } from 'vitest'
import { isFrozen } from '../../../src/core/signal/frozen-display.ts'
import { trackRows } from '../../harness/pressure-rows.ts'

const digitPa = 0.25

/** A pressure at 2 Pa/s, ten times a second; `shownS` gives the time whose pressure the display shows. */
function track(pressureAt: (tS: number) => number, shownS: (tS: number) => number = (tS) => tS) {
  return Array.from({ length: 300 }, (_, i) => ({
    tUs: i * 1e5,
    pressurePa: Math.round(pressureAt(shownS(i / 10)) / digitPa) * digitPa,
  }))
}

const ramp = (tS: number) => 10 + 2 * tS
const held = (fromS: number, toS: number) => (tS: number) => (tS > fromS && tS < toS ? fromS : tS)
const frozen = (samples: ReturnType<typeof track>, trips: { loUs: number; hiUs: number }[] = []) =>
  isFrozen(trackRows(samples), { startUs: 0, endUs: 30e6 }, trips, digitPa, 0.1)

test.each([1.5, 2.5, 6])('A display held for %d s of a ramp is frozen, and goes on where it should be.', (forS) => {
  expect(frozen(track(ramp, held(10, 10 + forS)))).toBe(true)
})

test('A display that is not held, or for less than three digits would take, is not.', () => {
  expect(frozen(track(ramp))).toBe(false)
  expect(frozen(track((tS) => 10 + 0.2 * tS, held(10, 13)))).toBe(false)
})

test('A held hand is not frozen, whether it goes on at its pace, lets down slowly or vents.', () => {
  for (const after of [2, -2, -40]) {
    const hand = (tS: number) => (tS < 10 ? ramp(tS) : tS < 14 ? ramp(10) : Math.max(0, ramp(10) + after * (tS - 14)))
    expect(frozen(track(hand))).toBe(false)
  }
  const letDown = (tS: number) => (tS < 10 ? 60 - 2 * tS : tS < 14 ? 40 : Math.max(0, 40 - 40 * (tS - 14)))
  expect(frozen(track(letDown))).toBe(false)
})

test('Across a trip the kick takes back some of the leap.', () => {
  const kicked = (tS: number) => ramp(tS) - (tS > 11.2 ? 3 : 0)
  const trip = [{ loUs: 11.2e6, hiUs: 11.4e6 }]
  for (const forS of [2, 2.5]) expect(frozen(track(kicked, held(10, 10 + forS)), trip)).toBe(true)
  const heldHand = (tS: number) => (tS < 10 ? ramp(tS) : tS < 14 ? ramp(10) : ramp(tS - 4))
  expect(frozen(track(heldHand), [{ loUs: 12e6, hiUs: 12.2e6 }])).toBe(false)
})

test('A peak that rests for a second before the hand turns back is not frozen, though one reading flickers up at its end.', () => {
  const hand = (tS: number) => (tS < 10 ? 18 + 1.2 * tS : tS < 11.05 ? 30 : tS < 11.15 ? 30.25 : 30 - 6 * (tS - 11.15))
  expect(frozen(track(hand))).toBe(false)
})
