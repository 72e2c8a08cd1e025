import { describe, expect, test } from 'vitest'
import type { ContactState } from '../../../src/core/model/samples.ts'

import { findEdges } from '../../../src/core/strokes/edges.ts'
import { contactRows } from '../../harness/contact-rows.ts'

const readings = (everyMs: number, states: readonly ContactState[]) =>
  contactRows(states.map((state, i) => ({ tUs: i * everyMs * 1000, state })))

describe('An edge lies between the last reading of the old state and the first of the new', () => {
  test('on the pair that closes at make', () => {
    const states: ContactState[] = ['open', 'open', 'closed', 'closed', 'open']
    expect(findEdges(readings(200, states), 'com-no')).toEqual([
      { loUs: 200_000, hiUs: 400_000, to: true, closes: true, bounces: 0, readings: 2 },
      { loUs: 600_000, hiUs: 800_000, to: false, closes: false, bounces: 0, readings: 1 },
    ])
  })

  test('on the pair that opens at make: opening is the make, and closes tells where the wires close', () => {
    expect(findEdges(readings(200, ['closed', 'open', 'closed']), 'com-nc')).toMatchObject([
      { to: true, closes: false },
      { to: false, closes: true },
    ])
  })

  test('and a reading between that tells nothing only widens it', () => {
    const states: ContactState[] = ['nc-closed', 'lead-off', 'both', 'shorted', 'no-closed']
    expect(findEdges(readings(200, states), 'network')).toMatchObject([{ loUs: 0, hiUs: 800_000, to: true }])
    expect(findEdges(readings(200, ['open', 'unknown', 'open', 'closed']), 'com-no')).toMatchObject([
      { loUs: 400_000, hiUs: 600_000 },
    ])
  })

  test('and what is unknown from the first reading on is no edge', () => {
    expect(findEdges(readings(200, ['unknown', 'closed', 'closed']), 'com-no')).toEqual([])
    expect(findEdges(contactRows([]), 'com-no')).toEqual([])
  })

  test('the network passes through neither on its way: that is still the old state', () => {
    expect(findEdges(readings(200, ['nc-closed', 'neither', 'no-closed']), 'network')).toMatchObject([
      { loUs: 200_000, hiUs: 400_000, to: true },
    ])
  })
})

// Rebounds under 20 ms are bounce, longer ones are transitions: common practice, no source.
describe('Bounce', () => {
  test('under 20 ms is one edge that counts its rebounds', () => {
    const states: ContactState[] = ['open', 'closed', 'open', 'closed', 'open', 'closed', 'closed']
    expect(findEdges(readings(5, states), 'com-no')).toEqual([
      { loUs: 0, hiUs: 5000, to: true, closes: true, bounces: 2, readings: 2 },
    ])
  })
  test('that comes back to where it was is no edge', () => {
    expect(findEdges(readings(5, ['open', 'closed', 'open', 'open']), 'com-no')).toEqual([])
  })
  test('of 20 ms and more is a transition each', () => {
    expect(findEdges(readings(20, ['open', 'closed', 'open', 'closed']), 'com-no')).toHaveLength(3)
    expect(findEdges(readings(19, ['open', 'closed', 'open', 'closed']), 'com-no')).toHaveLength(1)
  })
})
