import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createRandom } from '../../src/simulation/random.ts'
import { createSwitch, type DiaphragmSwitch, type SwitchTruth } from '../../src/simulation/switch.ts'

const base = goodBench().truth.switch
const make = (change: Partial<SwitchTruth> = {}, contact: Partial<SwitchTruth['contact']> = {}) =>
  createSwitch({ ...base, scatterPa: 0, ...change, contact: { ...base.contact, ...contact } }, createRandom(1))

/** The makes and breaks of `strokes` strokes, one a second. */
function work(part: DiaphragmSwitch, strokes: number) {
  return Array.from({ length: strokes }, (_, i) => {
    part.startStroke()
    part.throwsAt(i * 1e6)
    return { make: part.trip(i * 1e6 + 1), break: part.trip(i * 1e6 + 500_000) }
  })
}

/** Changes of the throw in `[fromUs, toUs)`, looked at each 0.2 ms. */
function changes(part: DiaphragmSwitch, name: 'noOhm' | 'ncOhm', fromUs: number, toUs: number): number {
  let count = 0
  let before = part.throwsAt(fromUs)[name] < 10
  for (let timeUs = fromUs; timeUs < toUs; timeUs += 200) {
    const now = part.throwsAt(timeUs)[name] < 10
    if (now !== before) count++
    before = now
  }
  return count
}

test('It waits for its make going up and, once actuated, for its break coming down.', () => {
  const part = make()
  part.startStroke()
  expect(part.next()).toEqual({ pressurePa: base.makePa, rising: true })
  expect(part.trip(5)).toMatchObject({ stroke: 1, transition: 'make', timeUs: 5, pressurePa: base.makePa })
  expect(part.next()).toEqual({ pressurePa: base.breakPa, rising: false })
})

test('First-stroke excess is on the first make alone; drift is on both points from stroke to stroke.', () => {
  const strokes = work(make({ firstStrokePa: 4, driftPaPerStroke: -0.5 }), 3)
  expect(strokes.map((s) => s.make.pressurePa - base.makePa)).toEqual([4, -0.5, -1].map((x) => expect.closeTo(x, 9)))
  expect(strokes.map((s) => s.break.pressurePa - base.breakPa)).toEqual([0, -0.5, -1].map((x) => expect.closeTo(x, 9)))
})

test('The scatter of many strokes is the one stated.', () => {
  const deviations = work(make({ scatterPa: 0.3 }), 2000).map((s) => s.make.pressurePa - base.makePa)
  const sd = Math.sqrt(deviations.reduce((sum, x) => sum + x * x, 0) / deviations.length)
  // Five standard errors: 0.3 / sqrt(2 · 2000) each.
  expect(Math.abs(sd - 0.3)).toBeLessThan(5 * (0.3 / Math.sqrt(4000)))
})

test('At a trip both throws stand open while the blade moves over, then the other one conducts.', () => {
  const part = make({}, { bounce: null })
  part.startStroke()
  expect(part.throwsAt(999_999)).toMatchObject({ noOhm: Number.POSITIVE_INFINITY, ncOhm: expect.closeTo(0.3, 1) })
  part.trip(1_000_000)
  expect(part.throwsAt(1_001_000)).toMatchObject({ noOhm: Number.POSITIVE_INFINITY, ncOhm: Number.POSITIVE_INFINITY })
  expect(part.throwsAt(1_004_000)).toMatchObject({ noOhm: expect.closeTo(0.3, 1), ncOhm: Number.POSITIVE_INFINITY })
})

test('Bounce is over in milliseconds, chatter goes on and reaches both throws.', () => {
  const bouncing = make({}, { bounce: { forS: 0.003, dwellS: 0.001 } })
  bouncing.startStroke()
  bouncing.trip(1_000_000)
  expect(changes(bouncing, 'noOhm', 1_000_000, 1_010_000)).toBeGreaterThanOrEqual(3)
  expect(changes(bouncing, 'noOhm', 1_010_000, 3_000_000)).toBe(0)
  const chattering = () => {
    const part = make({}, { bounce: null, chatter: { forS: 2, dwellS: 0.3 } })
    part.startStroke()
    part.trip(1_000_000)
    return part
  }
  expect(changes(chattering(), 'noOhm', 1_000_000, 3_100_000)).toBeGreaterThanOrEqual(3)
  expect(changes(chattering(), 'ncOhm', 1_000_000, 3_100_000)).toBeGreaterThanOrEqual(3)
})

test('A contact that drops out does so the stated number of times, not before its time, while held.', () => {
  const dropping = () => {
    const part = make({}, { bounce: null, dropouts: { afterS: 2, everyS: 1, count: 3, forS: 0.1 } })
    part.startStroke()
    part.trip(0)
    return part
  }
  expect(changes(dropping(), 'noOhm', 10_000, 2_500_000)).toBe(0)
  expect(changes(dropping(), 'noOhm', 10_000, 9_000_000)).toBe(6)
  const released = dropping()
  released.trip(1_000_000)
  expect(changes(released, 'noOhm', 1_010_000, 9_000_000)).toBe(0)
})

test('A film wears off with each closure of the same throw.', () => {
  const part = make({}, { bounce: null, spread: 0, filmOhm: 6, filmClosures: 1.5 })
  const ohms = [0, 1, 2].map((i) => {
    part.startStroke()
    part.trip(i * 1e6 + 100_000)
    const { noOhm } = part.throwsAt(i * 1e6 + 300_000)
    part.trip(i * 1e6 + 500_000)
    return noOhm
  })
  expect(ohms).toEqual(
    [6.3, 0.3 + 6 * Math.exp(-1 / 1.5), 0.3 + 6 * Math.exp(-2 / 1.5)].map((x) => expect.closeTo(x, 9)),
  )
})

test('A stuck mechanism waits for no pressure; dead and welded throws keep their state.', () => {
  expect(make({ stuck: 'rest' }).next()).toBeNull()
  expect(make({ stuck: 'actuated' }).throwsAt(0).noOhm).toBeLessThan(1)
  const part = make({}, { deadThrow: 'no', weldedThrow: 'nc' })
  part.startStroke()
  part.trip(1000)
  expect(part.throwsAt(900_000)).toMatchObject({ noOhm: Number.POSITIVE_INFINITY, ncOhm: 0.3 })
})

test('In a stroke without a make there is nothing to wait for, in the next one there is.', () => {
  const part = make({ noMakeIn: [2] })
  const waits = [1, 2, 3].map(() => {
    part.startStroke()
    const next = part.next()
    if (next) {
      part.trip(1)
      part.trip(2)
    }
    return next !== null
  })
  expect(waits).toEqual([true, false, true])
})

test('A contact that sticks stays closed through the vent, though the diaphragm lets go, and opens with the next break.', () => {
  const part = make({}, { bounce: null, sticksIn: [1] })
  const closed: boolean[] = []
  for (const stroke of [1, 2]) {
    part.startStroke()
    for (const transition of [1, 2]) {
      const timeUs = 1e6 * (2 * stroke + transition)
      part.trip(timeUs)
      closed.push(part.throwsAt(timeUs + 500_000).noOhm < 10)
    }
  }
  expect(closed).toEqual([true, true, true, false])
})

test('Shifts are on both points of their strokes, a first break of its own on the first alone.', () => {
  const strokes = work(make({ shifts: [{ strokes: [2], shiftPa: -9 }], firstBreakPa: -20 }), 3)
  expect(strokes.map((s) => s.make.pressurePa - base.makePa)).toEqual([0, -9, 0].map((x) => expect.closeTo(x, 9)))
  expect(strokes.map((s) => s.break.pressurePa - base.breakPa)).toEqual([-20, -9, 0].map((x) => expect.closeTo(x, 9)))
})

test('Some closures are poor ones, and a contact that wears rises from closure to closure.', () => {
  const ohms = (contact: Partial<SwitchTruth['contact']>) => {
    const part = make({}, { bounce: null, spread: 0, ...contact })
    return Array.from({ length: 100 }, (_, i) => {
      part.startStroke()
      part.trip(i * 1e6 + 1)
      const { noOhm } = part.throwsAt(i * 1e6 + 400_000)
      part.trip(i * 1e6 + 500_000)
      return noOhm
    })
  }
  const poor = ohms({ poor: { strokes: [3, 7], ohm: 300 } }).flatMap((ohm, i) => (ohm > 100 ? [i + 1] : []))
  expect(poor).toEqual([3, 7])
  const worn = ohms({ risePerClosureOhm: 0.2 })
  expect(worn[10]! - worn[0]!).toBeCloseTo(2, 9)
})
