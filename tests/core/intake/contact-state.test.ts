import { describe, expect, test } from 'vitest'
import { contactState } from '../../../src/core/intake/contact-state.ts'
import { isActuated, network, type Pair } from '../../../src/core/model/pair.ts'
import type { RigSpec } from '../../../src/core/model/rig.ts'
import type { ContactState } from '../../../src/core/model/samples.ts'
import { sampleRig } from '../../harness/sample-rig.ts'

const pairOf = (pair: Pair, change: Partial<RigSpec> = {}): RigSpec => ({ ...sampleRig, pair, ...change })
const beside = (...ohms: number[]) => 1 / ohms.reduce((sum, ohm) => sum + 1 / ohm, 0)

describe('A plain pair', () => {
  const bench = pairOf('com-no', { closedBelowOhm: 10, openAboveOhm: 1000, leadsOhm: 0.2 })

  test('is closed below one threshold and open above the other', () => {
    expect(contactState(0.3, 'unknown', bench)).toBe('closed')
    expect(contactState(1e6, 'closed', bench)).toBe('open')
    expect(contactState(Number.POSITIVE_INFINITY, 'closed', bench)).toBe('open')
  })
  test('stays what it was between them', () => {
    for (const before of ['open', 'closed', 'unknown'] as const) {
      expect(contactState(10.3, before, bench)).toBe(before)
      expect(contactState(500, before, bench)).toBe(before)
      expect(contactState(1000.1, before, bench)).toBe(before)
    }
  })
  test('has its leads taken off before it is compared', () => {
    expect(contactState(10.1, 'open', bench)).toBe('closed')
    expect(contactState(1000.1, 'closed', bench)).toBe('closed')
    expect(contactState(1000.3, 'closed', bench)).toBe('open')
  })
  test('is unknown after a reply that is no number, whatever it was', () => {
    expect(contactState(Number.NaN, 'closed', bench)).toBe('unknown')
  })
})

// 100 ohm in the NO lead, 220 ohm in the NC lead, 1 000 ohm across: parallel resistors.
describe('The network tells the throws apart', () => {
  const bench = pairOf('network')
  const { noOhm, ncOhm, acrossOhm } = network
  const cases: [ContactState, number][] = [
    ['no-closed', beside(noOhm, acrossOhm)],
    ['nc-closed', beside(ncOhm, acrossOhm)],
    ['both', beside(noOhm, ncOhm, acrossOhm)],
    ['neither', acrossOhm],
    ['shorted', 0],
    ['lead-off', Number.POSITIVE_INFINITY],
  ]
  test.each(cases)('%s', (state, ohm) => {
    // 1 % resistors and 2 ohm of contact or leads change nothing.
    for (const reading of [ohm, ohm * 0.99, ohm * 1.01 + 2]) expect(contactState(reading, 'unknown', bench)).toBe(state)
  })
  test('its readings are the 90.9, 180.3 and 64.3 ohm of the arithmetic', () => {
    const [no, nc, both] = cases.map(([, ohm]) => Number(ohm.toFixed(1)))
    expect([no, nc, both]).toEqual([90.9, 180.3, 64.3])
  })
  test('and has no hysteresis: each reading stands alone', () => {
    expect(contactState(1000, 'no-closed', bench)).toBe('neither')
  })
  test('its leads are taken off', () => {
    expect(contactState(79, 'unknown', pairOf('network', { leadsOhm: 5 }))).toBe('both')
  })
})

test('Actuated is NO closed or NC open; a state that tells neither gives null.', () => {
  expect([isActuated('closed', 'com-no'), isActuated('open', 'com-no')]).toEqual([true, false])
  expect([isActuated('closed', 'com-nc'), isActuated('open', 'com-nc')]).toEqual([false, true])
  expect((['no-closed', 'nc-closed', 'neither'] as const).map((s) => isActuated(s, 'network'))).toEqual([
    true,
    false,
    false,
  ])
  for (const state of ['both', 'lead-off', 'shorted', 'unknown'] as const)
    expect(isActuated(state, 'network')).toBeNull()
})
