import { describe, expect, test } from 'vitest'
import { judgeContact } from '../../../src/core/decision/limits.ts'
import { median } from '../../../src/core/statistics/mean.ts'
import { measureContact } from '../../../src/core/uncertainty/contact.ts'
import { sampleRating } from '../../harness/sample-rating.ts'
import { sampleRig } from '../../harness/sample-rig.ts'

describe('The contact', () => {
  const rating = { ...sampleRating, maxOhm: 2 }
  const rig = { ...sampleRig, meterAccuracy: { ofReading: 0, ohm: 0.1, distribution: 'normal' as const, coverage: 2 } }
  const contactOf = (closuresOhm: number[]) =>
    measureContact(
      { ...{ medianOhm: median(closuresOhm), maxOhm: null, closuresOhm, digitOhm: null }, poor: noPoor, closures: [] },
      rig,
    )
  const noPoor = { closures: 0, poor: 0, readings: 0, firstUs: null }
  const outcomeOf = (closuresOhm: number[], overdue = false) =>
    judgeContact(contactOf(closuresOhm), null, rating, rig, overdue).outcome
  const six = (ohm: number) => Array(6).fill(ohm) as number[]

  test('is held against its limit in ohm by its guard U, on the high side', () => {
    const U = contactOf(six(1)).UOhm!
    expect(U).toBeCloseTo(1.959964 * Math.hypot(0.05, 0.05 / Math.sqrt(3)), 6)
    expect(outcomeOf(six(2 - 1.05 * U))).toBe('pass')
    expect(outcomeOf(six(2 - 0.95 * U))).toBe('undecided')
    expect(outcomeOf(six(2 + 0.95 * U))).toBe('undecided')
    expect(outcomeOf(six(2 + 1.05 * U))).toBe('fail')
  })
  test('fails by one closure that lies wholly above the limit, and is undecided by one that straddles it', () => {
    expect(outcomeOf([0.3, 0.3, 0.3, 2.3, 0.3, 0.3, 0.3])).toBe('fail')
    expect(outcomeOf([0.3, 0.3, 0.3, 1.95, 0.3, 0.3, 0.3])).toBe('undecided')
  })
  test('is undecided by a trend that reaches the limit before the session ends, though each closure keeps it', () => {
    const rising = [1.3, 1.4, 1.5, 1.6, 1.7, 1.8]
    expect(outcomeOf(rising)).toBe('undecided')
    expect(outcomeOf(rising.map((ohm) => ohm - 0.5))).toBe('pass')
    expect(outcomeOf(rising.toReversed())).toBe('pass')
  })
  test('is undecided without two closures, for one tells nothing of the scatter', () => {
    expect(outcomeOf([])).toBe('undecided')
    expect(outcomeOf([0.3])).toBe('undecided')
  })
  test('is not assessed without a limit, behind a network, and with a meter past its date', () => {
    expect(judgeContact(contactOf(six(0.3)), null, sampleRating, rig, false).outcome).toBe('not-assessed')
    expect(judgeContact(contactOf(six(5)), null, rating, { ...rig, pair: 'network' }, false).outcome).toBe(
      'not-assessed',
    )
    expect(outcomeOf(six(5), true)).toBe('not-assessed')
  })
})
