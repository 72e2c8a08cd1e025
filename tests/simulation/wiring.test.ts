import { expect, test } from 'vitest'
import { ohmsAtMeter } from '../../src/simulation/wiring.ts'

const open = Number.POSITIVE_INFINITY
const throws = { rest: { noOhm: open, ncOhm: 0 }, actuated: { noOhm: 0, ncOhm: open } }

// Resistors in parallel: 1/R = Σ 1/Ri (Kirchhoff), of 100, 220 and 1 000 ohm.
test('Each state of the network reads as its resistors in parallel.', () => {
  const network = { clips: 'network', leadsOhm: 0 } as const
  expect(ohmsAtMeter(throws.actuated, network, false)).toBeCloseTo((100 * 1000) / (100 + 1000), 9)
  expect(ohmsAtMeter(throws.rest, network, false)).toBeCloseTo((220 * 1000) / (220 + 1000), 9)
  expect(ohmsAtMeter({ noOhm: open, ncOhm: open }, network, false)).toBeCloseTo(1000, 9)
  expect(ohmsAtMeter({ noOhm: 0, ncOhm: 0 }, network, false)).toBeCloseTo(64.327, 3)
  expect(ohmsAtMeter(throws.rest, network, true)).toBe(open)
})

test('A pair shows its own throw with the leads on top, and a pair without the common shows nothing.', () => {
  const contact = { noOhm: 0.3, ncOhm: open }
  expect(ohmsAtMeter(contact, { clips: 'com-no', leadsOhm: 0.2 }, false)).toBeCloseTo(0.5, 12)
  expect(ohmsAtMeter(contact, { clips: 'com-nc', leadsOhm: 0.2 }, false)).toBe(open)
  for (const state of Object.values(throws))
    expect(ohmsAtMeter(state, { clips: 'no-nc', leadsOhm: 0.2 }, false)).toBe(open)
})
