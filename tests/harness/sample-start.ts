// A first line for tests of the plumbing: any valid part and rig, nothing about them matters here.
import type { StartFields } from '../../src/recording/append.ts'

export const sampleStart: StartFields = {
  id: '01980f3a-5b1c-7cc3-98c4-dc0c0c07398f',
  at: '2026-01-05T09:00:00.000Z',
  purpose: 'certify',
  simulated: false,
  operator: null,
  part: {
    model: 'DP-62',
    kind: 'draft-proving',
    rated: { value: 62, unit: 'Pa', on: 'make' },
    limits: { make: { low: 55, high: 70, unit: 'Pa' } },
  },
  rig: {
    manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' } },
    meter: { driver: 'scpi-query', pair: 'com-no', closedBelowOhm: 10, openAboveOhm: 1000, leadsOhm: 0.2 },
  },
  conditions: null,
  software: 'makebreak test',
}
