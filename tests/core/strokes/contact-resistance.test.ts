import { describe, expect, test } from 'vitest'
import { contactResistance } from '../../../src/core/strokes/contact-resistance.ts'
import { type ContactReading, contactRows } from '../../harness/contact-rows.ts'
import { sampleRig } from '../../harness/sample-rig.ts'

describe('The resistance of the contact', () => {
  const edge = (loS: number, to: boolean) => ({
    loUs: loS * 1e6,
    hiUs: (loS + 0.1) * 1e6,
    to,
    closes: to,
    bounces: 0,
    readings: 2,
  })
  const edges = [edge(1, true), edge(3, false), edge(5, true), edge(7, false)]
  const contact = Array.from({ length: 80 }, (_, i): ContactReading => {
    const tS = 0.05 + i / 10
    const closed = (tS > 1.05 && tS < 3.05) || (tS > 5.05 && tS < 7.05)
    // Half an ohm too much within 0.2 s of an edge, 0.2 ohm of leads, the second closure a tenth higher.
    const near = edges.some((e) => Math.abs(tS - e.hiUs / 1e6) < 0.19)
    const ohm = closed ? 0.5 + (near ? 0.5 : 0) + (tS > 5 ? 0.1 : 0) : Number.POSITIVE_INFINITY
    return { tUs: tS * 1e6, ohm, state: closed ? 'closed' : 'open' }
  })

  const of = (changed = contact, intervalS = 0.1, mustConduct?: (tUs: number) => boolean) =>
    contactResistance(contactRows(changed), edges, { ...sampleRig, leadsOhm: 0.2 }, intervalS, mustConduct)

  test('is of closed readings at least 0.2 s from any edge, the leads taken off, one median a closure', () => {
    const found = of()
    expect(found.closuresOhm).toHaveLength(2)
    expect(found.closuresOhm[0]).toBeCloseTo(0.3, 9)
    expect(found.closuresOhm[1]).toBeCloseTo(0.4, 9)
    expect(found.maxOhm).toBeCloseTo(0.4, 9)
  })
  test('leaves out two intervals of a slow meter beside each edge: it integrates across them', () => {
    const settling = contact.map((s) => (Math.abs(s.tUs / 1e6 - 2.65) < 0.06 ? { ...s, ohm: 5 } : s))
    expect(of(settling).maxOhm).toBeCloseTo(4.8, 9)
    expect(of(settling, 0.3).maxOhm).toBeCloseTo(0.4, 9)
  })
  test('is null behind a network, and without a closed reading', () => {
    expect(contactResistance(contactRows(contact), edges, { ...sampleRig, pair: 'network' }, 0.1).medianOhm).toBeNull()
    expect(contactResistance(contactRows([]), [], sampleRig, 0.1)).toMatchObject({
      medianOhm: null,
      maxOhm: null,
      closuresOhm: [],
    })
  })
  test('knows the digit that the meter showed while it was closed, the coarsest where they differ', () => {
    expect(of().digitOhm).toBeNull()
    expect(
      of(contact.map((s, i) => ({ ...s, digitOhm: s.state === 'open' ? 1e5 : i % 2 ? 0.01 : 0.1 }))).digitOhm,
    ).toBe(0.1)
  })

  /** Readings of 50 ohm from a time on, so many in a row: neither closed nor open, so the state stays. */
  const between = (fromS: number, count: number) => {
    const first = contact.findIndex((s) => s.tUs / 1e6 > fromS)
    return contact.map((s, i) => (i >= first && i < first + count ? { ...s, ohm: 50 } : s))
  }
  test('is poor in a closure with two readings in a row between the thresholds; a single one is counted only', () => {
    expect(of(between(2, 2)).poor).toMatchObject({ closures: 2, poor: 1, readings: 2 })
    expect(of(between(2, 1)).poor).toMatchObject({ closures: 2, poor: 0, readings: 1 })
    expect(of().poor).toEqual({ closures: 2, poor: 0, readings: 0, firstUs: null })
  })
  test('is poor too where it never came to be closed though the pressure says that it must', () => {
    const open = contact.map((s) =>
      s.tUs > 5e6 && s.state === 'closed' ? { ...s, ohm: 50, state: 'open' as const } : s,
    )
    expect(contactResistance(contactRows(open), edges, sampleRig, 0.1).poor).toMatchObject({ closures: 1, poor: 0 })
    expect(
      contactResistance(contactRows(open), edges, sampleRig, 0.1, (tUs) => tUs > 5.5e6 && tUs < 6.5e6).poor,
    ).toMatchObject({
      closures: 2,
      poor: 1,
    })
  })
})
