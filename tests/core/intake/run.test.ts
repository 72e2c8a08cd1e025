import { describe, expect, test } from 'vitest'
import { assess } from '../../../src/core/assess.ts'
import { type Run, step } from '../../../src/core/intake/run.ts'
import { resultOf } from '../../../src/core/judge.ts'
import { curveOf } from '../../../src/core/view/curve-of.ts'
import { liveOf } from '../../../src/core/view/live-view.ts'
import { foldEvents, newRun, readEvent, resultFrom, sealRun } from '../../harness/fold-events.ts'
import { createRandom, type ForeignEvent, makeForeignRecording, quietBench } from '../../harness/foreign-recording.ts'
import { noEstimate } from '../../harness/no-estimate.ts'

const recording = makeForeignRecording({ ...quietBench, ratePaPerS: (stroke) => [1.2, 1.2, 3][stroke % 3]!, cycles: 5 })
const { events } = recording

/** Each received line in up to `most` pieces, the earlier ones a little before the last byte. */
function inPieces(most: number, seed: number): ForeignEvent[] {
  const random = createRandom(seed)
  const out = events.flatMap((event) => {
    if (event.type !== 'rx') return [event]
    const text = event.text ?? ''
    const cuts = Array.from({ length: Math.floor(random.uniform() * most) }, () =>
      Math.floor(random.uniform() * text.length),
    ).sort((a, b) => a - b)
    return [...cuts, text.length].map((to, i) => ({
      ...event,
      text: text.slice(cuts[i - 1] ?? 0, to),
      t: Math.max(0, (event.t ?? 0) - 200 * (cuts.length - i)),
    }))
  })
  return out.sort((a, b) => (a.t ?? -1) - (b.t ?? -1))
}

describe('How the bytes were cut changes nothing:', () => {
  const whole = resultFrom(events)

  test.each([2, 5, 40])('lines in up to %i pieces give the same result, field by field', (most) => {
    expect(resultFrom(inPieces(most, most))).toEqual(whole)
  })

  test('several lines in one chunk are what they are one by one at the same moment', () => {
    const bursts: ForeignEvent[] = []
    const singles: ForeignEvent[] = []
    let held: ForeignEvent[] = []
    for (const event of events) {
      if (event.type !== 'rx' || event.port !== 'manometer') {
        bursts.push(event)
        singles.push(event)
        continue
      }
      held.push(event)
      if (held.length < 3) continue
      bursts.push({ ...event, text: held.map((e) => e.text).join('') })
      singles.push(...held.map((e) => ({ ...e, t: event.t ?? 0 })))
      held = []
    }
    expect(resultFrom(bursts)).toEqual(resultFrom(singles))
  })
})

describe('Older states stay valid:', () => {
  test('what a state tells is the same before and after the run went on, and on each of two ways it may go', () => {
    const kept: { run: Run; told: unknown }[] = []
    const tell = (run: Run) => ({
      result: resultOf(run),
      live: liveOf(run, assess(run, null)),
      curve: curveOf(run),
    })
    let run = newRun()
    const places = [0, 1, 900, 2500, events.length - 2]
    for (const [i, event] of events.entries()) {
      run = step(run, readEvent(event))
      if (places.includes(i)) kept.push({ run, told: structuredClone(tell(run)) })
    }
    for (const { run: old, told } of kept) {
      // Another way on from the old state: its own readings, none of which the first way may see.
      let other = old
      for (let k = 0; k < 40; k++)
        other = step(other, { type: 'rx', t: old.tUs + k * 1e5, port: 'manometer', text: '-9.000 inH2O\r\n' })
      expect(tell(old)).toEqual(told)
    }
    expect(resultOf(sealRun(run))).toEqual(resultFrom(events))
  })

  test('the standing is kept while nothing that matters has happened, and is new after a stroke, a mark or the end', () => {
    let assessment = assess(newRun(), null)
    expect(assessment).toBeNull()
    let [analyses, run] = [0, newRun()]
    for (const event of events) {
      run = step(run, readEvent(event))
      const next = assess(run, assessment)
      if (next !== assessment) analyses++
      assessment = next
    }
    // The start, six strokes, the end.
    expect(analyses).toBe(8)
    expect(assessment!.result).toEqual(resultOf(run))
    expect(assess(sealRun(run), assessment)!.result.verdict).toBe('pass')
  })
})

describe('A run', () => {
  test('before its start has no result, no curve and no live pressure, and hears nothing', () => {
    const run = step(newRun(), { type: 'rx', t: 5, port: 'meter', text: '1\n' })
    expect(resultOf(run)).toBeNull()
    expect(curveOf(run)).toBeNull()
    expect(liveOf(run, null)).toMatchObject({ pressurePa: null, phase: 'waiting', trips: [], result: null })
  })

  test('that has only begun is undecided and makes no number up', () => {
    const result = resultFrom(events.slice(0, 1))
    expect(result.verdict).toBe('undecided')
    expect(result.make).toEqual(noEstimate)
    expect(result.cycles).toEqual([])
    expect(result.firstStroke).toEqual({ makePa: null, breakPa: null })
    expect(result.contact).toEqual({ medianOhm: null, maxOhm: null, uOhm: null, poorShare: null })
    expect(result.budget).toEqual([])
    expect(result.findings.map((f) => f.code)).not.toContain('never-makes')
  })

  test('takes no reading after its end, and keeps its first end', () => {
    const run = foldEvents(events)
    const after = { type: 'rx', t: run.tUs, port: 'manometer', text: '-9.000 inH2O\r\n' } as const
    const later = step(step(run, after), { type: 'end', t: run.tUs, reason: 'abandoned' })
    expect(resultOf(sealRun(later))).toEqual(resultOf(sealRun(run)))
    expect(later.end?.reason).toBe('finished')
  })

  test('hears no port that its rig does not have', () => {
    const run = foldEvents(events.slice(0, 400))
    const later = step(run, { type: 'rx', t: run.tUs, port: 'bridge', text: '-9.000 inH2O\r\n' })
    expect(later.pressure.length).toBe(run.pressure.length)
  })

  test('drops the half line of a connection that was lost', () => {
    const run = foldEvents(events.slice(0, 400))
    const at = (k: number) => run.tUs + k * 1000
    const hear = (r: Run, k: number, text: string) => step(r, { type: 'rx', t: at(k), port: 'manometer', text })
    let later = hear(run, 1, '-0.1')
    later = step(later, { type: 'link', t: at(2), port: 'manometer', state: 'lost' })
    later = step(later, { type: 'link', t: at(3), port: 'manometer', state: 'back' })
    later = hear(later, 4, '23 inH2O\r\n-0.200 inH2O\r\n')
    expect(later.pressure.length - run.pressure.length).toBe(1)
    expect(later.linkBreaks.length).toBe(2)
  })

  test('reads a gauge beyond its range as that, with no pressure of its own', () => {
    const run = foldEvents(events.slice(0, 400))
    const over = step(run, { type: 'rx', t: run.tUs, port: 'manometer', text: '-OL inH2O\r\n' })
    expect(over.pressure.at(-1)).toMatchObject({ rawPa: Number.POSITIVE_INFINITY })
    expect(liveOf(over, null)).toMatchObject({ pressurePa: null, alarm: expect.stringMatching(/over its range/) })
  })
})

test('The curve has a point for each reading, a mark for each trip, and the limits of the part.', () => {
  const run = foldEvents(events)
  const curve = curveOf(run)!
  expect(curve.pressure.length).toBe(run.pressure.length)
  expect(curve.contact.length).toBe(run.contact.length)
  expect(curve.trips).toHaveLength(12)
  for (const trip of curve.trips) {
    const stroke = recording.strokes[trip.stroke - 1]!
    expect(Math.abs(trip.tS - (trip.transition === 'make' ? stroke.makeS : stroke.breakS))).toBeLessThan(0.2)
  }
  expect(curve.limits.make?.lowPa).toBeCloseTo(0.22 * 249.08891, 9)
  expect(curve.limits.make?.highPa).toBeCloseTo(0.28 * 249.08891, 9)
  const made = curve.contact.filter((point) => point.actuated)
  expect(made.length).toBeGreaterThan(100)
  expect(made.every((point) => point.pressurePa !== null && point.pressurePa > 40)).toBe(true)
})
