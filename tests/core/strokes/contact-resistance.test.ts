import { describe, expect, test } from 'vitest'
import { contactResistance } from '../../../src/core/strokes/contact-resistance.ts'
import { sampleRig } from '../../harness/sample-rig.ts'

describe('The resistance of the contact', () => {
  const edge = (loS: number, to: boolean) => ({ loUs: loS * 1e6, hiUs: (loS + 0.1) * 1e6, to, closes: to, bounces: 0 })
  const edges = [edge(1, true), edge(3, false), edge(5, true), edge(7, false)]
  const contact = Array.from({ length: 80 }, (_, i) => {
    const tS = 0.05 + i / 10
    const closed = (tS > 1.05 && tS < 3.05) || (tS > 5.05 && tS < 7.05)
    // Half an ohm too much within 0.2 s of an edge, 0.2 ohm of leads, the second closure a tenth higher.
    const near = edges.some((e) => Math.abs(tS - e.hiUs / 1e6) < 0.19)
    const ohm = closed ? 0.5 + (near ? 0.5 : 0) + (tS > 5 ? 0.1 : 0) : Number.POSITIVE_INFINITY
    return { tUs: tS * 1e6, ohm, state: closed ? ('closed' as const) : ('open' as const) }
  })

  test('is of closed readings at least 0.2 s from any edge, the leads taken off, one median a closure', () => {
    const found = contactResistance(contact, edges, { ...sampleRig, leadsOhm: 0.2 })
    expect(found.closuresOhm).toHaveLength(2)
    expect(found.closuresOhm[0]).toBeCloseTo(0.3, 9)
    expect(found.closuresOhm[1]).toBeCloseTo(0.4, 9)
    expect(found.maxOhm).toBeCloseTo(0.4, 9)
  })
  test('is null behind a network, and without a closed reading', () => {
    expect(contactResistance(contact, edges, { ...sampleRig, pair: 'network' }).medianOhm).toBeNull()
    expect(contactResistance([], [], sampleRig)).toEqual({ medianOhm: null, maxOhm: null, closuresOhm: [] })
  })
})
