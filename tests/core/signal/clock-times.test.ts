import { describe, expect, test } from 'vitest'
import { clockTimes } from '../../../src/core/signal/clock-times.ts'
import { createRandom } from '../../harness/foreign-recording.ts'

type Line = { takenUs: number; deviceUs: number; cameUs: number }

type Bench = { count: number; periodUs?: number; skew?: number; startUs?: number; seed?: number; delayUs?: number }

/** Lines of a board whose clock runs fast by `skew`; each arrives 2 ms later, and by chance up to `delayUs` more. */
function lines({ count, periodUs = 20_000, skew = 0, startUs = 5e6, seed = 4, delayUs = 16_000 }: Bench): Line[] {
  const random = createRandom(seed)
  let cameUs = 0
  return Array.from({ length: count }, (_, i) => {
    const takenUs = 1e6 + i * periodUs + 400 * random.uniform()
    cameUs = Math.max(cameUs, takenUs + 2000 + delayUs * random.uniform())
    return { takenUs, deviceUs: Math.round(startUs + (takenUs - 1e6) * (1 + skew)), cameUs }
  })
}

/** Nothing arrives within the stretch: all of it comes at its end. */
const stalled = (all: readonly Line[], fromUs: number, toUs: number) =>
  all.map((l) => (l.cameUs > fromUs && l.cameUs < toUs ? { ...l, cameUs: toUs } : l))

function place(all: readonly Line[]) {
  const column = (name: keyof Line) => Float64Array.from(all, (l) => l[name])
  const { tUs, halfUs } = clockTimes(column('cameUs'), column('deviceUs'))
  const lateUs = all.map(({ takenUs }, i) => tUs[i]! - takenUs)
  const sharedUs = lateUs.reduce((a, b) => a + b, 0) / all.length
  return { tUs, halfUs, offUs: lateUs.map((late) => Math.abs(late - sharedUs)), sharedUs }
}

const most = (values: ArrayLike<number>) => Array.from(values).reduce((a, b) => Math.max(a, b), 0)

describe('Lines that state the time of their instrument get it back', () => {
  test.each([-200e-6, -20e-6, 0, 20e-6, 200e-6])('where its clock runs wrong by %s', (skew) => {
    const { offUs, halfUs, sharedUs } = place(lines({ count: 15_000, skew }))
    expect(most(offUs)).toBeLessThan(1000)
    expect(most(halfUs)).toBeLessThan(1000)
    // What all share is the 2 ms of the way, give or take.
    expect(Math.abs(sharedUs - 2000)).toBeLessThan(500)
  })

  test('where an adapter hands over what it has each 16 ms', () => {
    const all = lines({ count: 60_000, periodUs: 1000, delayUs: 0 }).map((l) => ({
      ...l,
      cameUs: Math.ceil(l.cameUs / 16_000) * 16_000,
    }))
    expect(most(place(all).offUs)).toBeLessThan(1000)
  })

  test('where a link stalls for a second now and then', () => {
    const all = [3e6, 9e6, 61e6, 99.5e6].reduce(
      (ls, fromUs) => stalled(ls, fromUs, fromUs + 1e6),
      lines({ count: 6000, skew: 100e-6 }),
    )
    expect(most(place(all).offUs)).toBeLessThan(1000)
  })

  test('where lines are missing, for a moment and for minutes', () => {
    const all = lines({ count: 30_000, skew: 200e-6 }).filter((_, i) => i % 7 !== 3 && !(i > 4000 && i < 16_000))
    expect(most(place(all).offUs)).toBeLessThan(1000)
  })

  test('where the board begins again, its clock near 0, ahead of where it was, or behind', () => {
    const [first, second] = [lines({ count: 3000 }), lines({ count: 3000, seed: 5 })]
    for (const startUs of [0, 4e6, 64e6, 900e6]) {
      const again = second.map((l) => ({
        takenUs: l.takenUs + 63e6,
        cameUs: l.cameUs + 63e6,
        deviceUs: l.deviceUs - 5e6 + startUs,
      }))
      const { offUs } = place([...first, ...again])
      expect(most(offUs)).toBeLessThan(1000)
    }
  })

  test('where its clock stops for a while', () => {
    const all = lines({ count: 6000 }).map((l, i) => (i < 2000 ? l : { ...l, deviceUs: l.deviceUs - 3e6 }))
    // The clock did not go back: nothing came meanwhile.
    const { offUs } = place(all.filter((_, i) => i < 1800 || i >= 2000))
    expect(most(offUs)).toBeLessThan(1000)
  })
})

test('What stays open is told: nearly each interval holds the moment of its reading, later by the way that all share.', () => {
  for (const periodUs of [10_000, 50_000, 200_000]) {
    const all = lines({ count: 600e6 / periodUs, periodUs, skew: 50e-6 })
    const { tUs, halfUs } = place(all)
    const outside = all.filter(({ takenUs }, i) => Math.abs(tUs[i]! - takenUs - 2000) > halfUs[i]!).length
    expect(outside / all.length).toBeLessThan(0.05)
  }
})

test('A block that is over stays where it is, whatever comes later.', () => {
  const all = lines({ count: 9000, skew: 120e-6 })
  const whole = place(all)
  // 60 s of 50 lines each second.
  for (const soFar of [6500, 7000, 8999])
    expect(place(all.slice(0, soFar)).tUs.subarray(0, 5990)).toEqual(whole.tUs.subarray(0, 5990))
})

test('Too few lines to tell their clock keep their arrivals.', () => {
  const all = lines({ count: 7 })
  expect([...place(all).tUs]).toEqual(all.map((l) => l.cameUs))
  expect(place([]).tUs).toHaveLength(0)
})

test('Whatever the clock says, no interval ends after its arrival and none is turned round.', () => {
  for (let seed = 1; seed <= 200; seed++) {
    const random = createRandom(seed)
    let [cameUs, deviceUs] = [0, 1e9 * random.uniform()]
    const all = Array.from({ length: Math.floor(300 * random.uniform()) }, (): Line => {
      cameUs += random.uniform() < 0.4 ? 0 : 10 ** (2 + 5 * random.uniform())
      const goesOn = random.uniform() < 0.95
      deviceUs = goesOn ? deviceUs + 10 ** (5 * random.uniform()) : 2 ** 32 * random.uniform()
      return { takenUs: 0, deviceUs, cameUs }
    })
    const { tUs, halfUs } = place(all)
    for (const [i, l] of all.entries()) {
      expect(halfUs[i]).toBeGreaterThanOrEqual(0)
      expect(tUs[i]! + halfUs[i]!).toBeLessThanOrEqual(l.cameUs + 1e-3)
    }
  }
})
