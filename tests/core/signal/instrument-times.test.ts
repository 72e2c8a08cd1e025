import { describe, expect, test } from 'vitest'
import { columnsOf } from '../../../src/core/model/columns.ts'
import { heardColumns } from '../../../src/core/model/samples.ts'
import { placeInTime } from '../../../src/core/signal/instrument-times.ts'
import { createRandom } from '../../harness/foreign-recording.ts'

type Line = {
  tUs: number
  takenUs: number
  line: number
  askedUs: number | null
  waitingUs: number | null
  deviceUs: null
  value: number
}

/** Lines taken every `periodUs` that arrive 2 ms later, give or take a little. */
function lines(count: number, periodUs: number, jitterUs = 800): Line[] {
  const random = createRandom(3)
  return Array.from({ length: count }, (_, i) => {
    const takenUs = 700_000 + i * periodUs
    const tUs = takenUs + 2000 + jitterUs * random.uniform()
    return { tUs, takenUs, line: i + 1, askedUs: null, waitingUs: null, deviceUs: null, value: random.normal() }
  })
}

/** Nothing that would arrive in one of the stretches arrives before its end. */
const stalled = (all: readonly Line[], stretches: readonly (readonly [fromUs: number, toUs: number])[]) =>
  all.map((s) => ({ ...s, tUs: stretches.find(([from, to]) => s.tUs > from && s.tUs < to)?.[1] ?? s.tUs }))

/** Each line arrives at the next tick of the adapter's own clock. */
const ticked = (all: readonly Line[], tickUs: number) =>
  all.map((s) => ({ ...s, tUs: Math.ceil(s.tUs / tickUs) * tickUs }))

type LineInTime = Line & { halfUs: number }

const place = (all: readonly Line[], breaksUs: readonly number[] = []) => {
  const placing = placeInTime(columnsOf(heardColumns, all), breaksUs, (i) => all[i]!.value)
  const { tUs, halfUs } = placing
  const samples = all.map((s, i): LineInTime => ({ ...s, tUs: tUs[i]!, halfUs: halfUs[i]! }))
  return { ...placing, samples }
}

/** Each reading was taken within its interval, less the 2 ms and a bit that all share; times never decrease. */
function expectHonest(samples: readonly LineInTime[], sharedUs = 4000) {
  for (const [i, s] of samples.entries()) {
    expect(s.halfUs).toBeGreaterThanOrEqual(0)
    expect(s.tUs).toBeGreaterThanOrEqual(samples[i - 1]?.tUs ?? 0)
    expect(s.takenUs).toBeLessThanOrEqual(s.tUs + s.halfUs)
    expect(s.takenUs).toBeGreaterThanOrEqual(s.tUs - s.halfUs - sharedUs)
  }
}

const widest = (samples: readonly LineInTime[]) => Math.max(...samples.map((s) => s.halfUs))

describe('An instrument that speaks by itself', () => {
  test('keeps its arrivals where nothing came in clumps, late lines and lost ones too', () => {
    const plain = lines(600, 50_000, 8000).filter((_, i) => i % 50 !== 7)
    const late = plain.map((s, i) => (i === 200 ? { ...s, tUs: s.tUs + 20_000 } : s))
    for (const all of [plain, late]) {
      const { samples, clumps, clumped } = place(all)
      expect(samples.map(({ halfUs: _, ...s }) => s)).toEqual(all)
      expect([widest(samples), clumps, clumped]).toEqual([0, 0, 0])
    }
  })

  test.each<[name: string, delay: (all: Line[]) => Line[], sharedUs?: number]>([
    [
      'a machine that stalls now and then',
      (all: Line[]) =>
        stalled(all, [
          [5e6, 5.4e6],
          [9e6, 9.9e6],
          [20e6, 20.2e6],
        ]),
    ],
    [
      'lines held back until the next one comes',
      (all: Line[]) => all.map((s, i) => ({ ...s, tUs: all[i | 1]?.tUs ?? s.tUs })),
    ],
    // Even the last of each ten waits for the adapter: all lines share that, so it is part of the lag.
    ['an adapter that hands over ten at a time', (all: Line[]) => ticked(all, 500_000), 50_000],
  ])('gets its own times back behind %s', (_, delay, sharedUs = 4000) => {
    const { samples } = place(delay(lines(600, 50_000)))
    expect(samples.filter((s) => s.halfUs > 0).length).toBeGreaterThan(10)
    const inner = samples.slice(0, -20)
    expectHonest(inner.slice(20), sharedUs)
    expect(widest(inner.slice(20))).toBeLessThanOrEqual(12_500.1)
  })

  test('that is quicker than its adapter gets the time since the last delivery', () => {
    const { samples } = place(ticked(lines(2000, 7000), 16_000))
    expectHonest(samples.slice(3, -20), 8000)
    expect(widest(samples.slice(3, -20))).toBeLessThanOrEqual(8000)
  })

  test('whose lines were lost while the machine stalled gets all the time since the line before', () => {
    const all = stalled(lines(600, 50_000), [[5e6, 5.6e6]])
    const clump = all.filter((s) => s.tUs === 5.6e6)
    const lost = all.filter((s) => s !== clump[4] && s !== clump[5]).map((s, i) => ({ ...s, line: i + 1 }))
    const { samples } = place(lost)
    expectHonest(samples)
    expect(samples.filter((s) => s.halfUs > 0.25e6)).toHaveLength(clump.length - 2)
    // Lines that came and could not be read are counted: nothing is in doubt.
    const counted = all.filter((s) => s !== clump[4] && s !== clump[5])
    expectHonest(place(counted).samples)
    expect(widest(place(counted).samples)).toBeLessThanOrEqual(12_500.1)
  })

  test('without a beat of its own gets the time since the delivery before', () => {
    const random = createRandom(8)
    let takenUs = 0
    const irregular = lines(500, 1).map((s) => {
      takenUs += 20_000 + 130_000 * random.uniform()
      return { ...s, takenUs, tUs: takenUs + 2000 }
    })
    const { samples, clumps } = place(
      stalled(irregular, [
        [5e6, 5.5e6],
        [12e6, 12.4e6],
      ]),
    )
    expect(clumps).toBeGreaterThan(0)
    expectHonest(samples)
  })

  test('and sends each value twice is not held up at all', () => {
    const twice = lines(300, 100_000)
      .flatMap((s) => [s, { ...s, tUs: s.tUs + 3000 }])
      .map((s, i) => ({ ...s, line: i + 1 }))
    const { samples, clumps } = place(twice)
    expect([widest(samples), clumps]).toEqual([0, 0])
  })

  test('starts its beat again when its cable comes back', () => {
    const all = lines(600, 50_000).map((s, i) =>
      i < 300 ? s : { ...s, tUs: s.tUs + 21_000, takenUs: s.takenUs + 21_000 },
    )
    const { samples } = place(
      stalled(all, [
        [5e6, 5.3e6],
        [20e6, 20.3e6],
      ]),
      [(all[299]!.tUs + all[300]!.tUs) / 2],
    )
    expectHonest(samples)
    expect(widest(samples)).toBeLessThanOrEqual(12_500.1)
  })
})

describe('An instrument that answers', () => {
  const answers = (lateUs: (i: number) => number) =>
    lines(100, 200_000, 0).map((s, i) => ({
      ...s,
      askedUs: s.takenUs - 3000,
      waitingUs: s.takenUs - 3000,
      tUs: s.tUs + lateUs(i),
    }))

  test('keeps its arrivals while its answers take their usual time, however long', () => {
    for (const usualUs of [0, 90_000]) {
      const all = answers((i) => usualUs + (i % 3) * 1000)
      expect(widest(place(all).samples)).toBe(0)
    }
  })

  test('was read anywhere between query and answer where it was late', () => {
    const { samples } = place(answers((i) => (i === 40 ? 150_000 : 0)))
    expectHonest(samples)
    expect(samples.filter((s) => s.halfUs > 0).map((s) => [s.line, s.halfUs])).toEqual([[41, 75_000]])
  })

  test('and comes too soon after a query answers the one before it', () => {
    const all = answers(() => 40_000)
    // No answer to query 50 in time: query 51 went out, and at once an answer came.
    const soon = all.flatMap((s, i) =>
      i === 50 ? [] : i === 51 ? [{ ...s, tUs: s.askedUs + 1000, waitingUs: all[50]!.askedUs }] : [s],
    )
    const late = place(soon).samples.filter((s) => s.halfUs > 0)
    expect(late).toHaveLength(1)
    expect(late[0]!.tUs - late[0]!.halfUs).toBeLessThanOrEqual(all[50]!.askedUs + 45_000)
  })
})

test('Whatever arrives when, times never decrease, no interval is turned round, and none ends after its arrival.', () => {
  for (let seed = 1; seed <= 60; seed++) {
    const random = createRandom(seed)
    let [tUs, line] = [0, 0]
    const asked = random.uniform() < 0.3
    const all = Array.from({ length: Math.floor(200 * random.uniform()) }, (): Line => {
      tUs += random.uniform() < 0.4 ? 0 : 10 ** (2 + 5 * random.uniform())
      line += 1 + Math.floor(1.2 * random.uniform())
      const askedUs = asked ? tUs - 1e5 * random.uniform() : null
      return {
        tUs,
        takenUs: 0,
        line,
        askedUs,
        waitingUs: askedUs === null ? null : askedUs - 1e5,
        deviceUs: null,
        value: random.uniform(),
      }
    })
    const { samples } = place(all, [1e6, 2e6])
    expect(samples).toHaveLength(all.length)
    let [beforeUs, loUs] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]
    for (const [i, s] of samples.entries()) {
      expect(s.halfUs).toBeGreaterThanOrEqual(0)
      expect(s.tUs).toBeGreaterThanOrEqual(beforeUs)
      expect(s.tUs - s.halfUs).toBeGreaterThanOrEqual(loUs - 1e-6)
      expect(s.tUs).toBeLessThanOrEqual(all[i]!.tUs + 1e-6)
      beforeUs = s.tUs
      loUs = s.tUs - s.halfUs
    }
  }
})
