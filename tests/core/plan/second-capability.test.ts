// What a second manometer can prove, told before the test: its own claims by hand, and why it proves nothing.
import { describe, expect, test } from 'vitest'
import { partFileSchema, ratingOf } from '../../../src/core/model/part.ts'
import { rigFileSchema, rigSpecOf } from '../../../src/core/model/rig.ts'
import { pressureUnits } from '../../../src/core/model/units.ts'
import { secondCapability } from '../../../src/core/plan/second-capability.ts'

const { inH2O } = pressureUnits
const day = '2026-03-02'
const rating = ratingOf(
  partFileSchema.parse({
    kind: 'draft-proving',
    rated: { value: 0.25, unit: 'inH2O', on: 'make' },
    limits: { make: { low: 0.22, high: 0.28, unit: 'inH2O' } },
  }),
)
const gauge = { driver: 'ascii-line', suctionSign: 1, digit: { value: 0.001, unit: 'inH2O' } }
const meter = { driver: 'scpi-query', pair: 'com-no' }
const ofFullScale = (fullScale: number) => ({
  accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: fullScale, unit: 'inH2O' } },
})
const told = (second: object) =>
  secondCapability(
    rating,
    rigSpecOf(rigFileSchema.parse({ manometer: { ...gauge, ...ofFullScale(2) }, meter, ...second })),
    day,
  )
const withSecond = (manometer: object) => told({ 'manometer-2': { ...gauge, ...manometer } })

describe('a second manometer', () => {
  test('leaves open what it claims itself, one-sided 95 %', () => {
    // Rectangles of 0.5 % of 2 inH2O, and of a digit for the reading and for the zero: JCGM 100:2008, 4.3.7.
    const [gauge, digit] = [(0.01 * inH2O) / Math.sqrt(3), (0.001 * inH2O) / Math.sqrt(12)]
    const { why, leavesPa } = withSecond(ofFullScale(2))!
    expect(why).toBeNull()
    expect(leavesPa).toBeGreaterThan(1.6448 * Math.hypot(gauge, digit))
    expect(leavesPa).toBeLessThan(1.6449 * Math.hypot(gauge, 3 * digit))
    expect(told({})).toBeNull()
  })
  test('past its date, or with too short a scale, proves nothing, and the reason is told before the test', () => {
    const due = (on: string) => ({ ...ofFullScale(2), identity: { due: on } })
    expect(withSecond(due('2026-03-01'))?.why).toBe('overdue')
    expect(withSecond(due(day))?.why).toBeNull()
    expect(withSecond(ofFullScale(0.2))?.why).toBe('outside-scale')
    const point = (reading: number) => ({ reading, correction: 0, U: 0.001 })
    const calibration = { unit: 'inH2O', coverage: 2, drift: 0.0005, points: [point(0), point(0.1), point(0.2)] }
    expect(withSecond({ calibration })?.why).toBe('outside-certificate')
  })
})
