// The small pieces of the guide: notes that keep plan and skips, what a rig can follow, and the marks that are sent once.

import { describe, expect, test } from 'vitest'
import { errorAtPa, rateBand } from '../../../src/core/guide/instruments.ts'
import { leftOutOf, planNote, planOf, skipNote, skipsOf } from '../../../src/core/guide/step.ts'
import type { Run } from '../../../src/core/intake/run.ts'
import { openCautions } from '../../../src/core/model/cautions.ts'
import type { Mark } from '../../../src/core/model/marks.ts'
import { ratingOf } from '../../../src/core/model/part.ts'
import type { Setup } from '../../../src/core/model/setup.ts'
import { type StepName, stepRow, usualPlan } from '../../../src/core/plan/test-steps.table.ts'
import type { Live } from '../../../src/core/view/live.ts'
import { createFlowWriter } from '../../../src/fold/write-flow.ts'
import { sampleRig } from '../../harness/sample-rig.ts'
import { sampleStart } from '../../harness/sample-start.ts'
import { sampleGuide, sampleLive } from '../../terminal/sample-lives.ts'

const mark = (name: Mark['mark'], text: string | null = null, tUs = 0): Mark => ({ mark: name, text, tUs })

describe('notes', () => {
  test('a plan is read again as it was noted; the last one counts, and any other text is no plan', () => {
    expect(planOf([])).toEqual(usualPlan)
    const plans = [
      { preconditioning: 0, cycles: 10 },
      { preconditioning: 5, cycles: 7 },
    ]
    expect(planOf(plans.map((plan) => mark('note', planNote(plan))))).toEqual(plans[1])
    expect(planOf([mark('note', 'Plan: lunch'), mark('caution', planNote(plans[0]!))])).toEqual(usualPlan)
  })

  test('a skip is read again with its step and time', () => {
    expect(skipsOf([mark('note', skipNote('hold', 'no clamp'), 5), mark('note', 'hold your horses')])).toEqual(
      new Map([['hold', 5]]),
    )
  })

  test('a caution is open until a caution mark bears its name', () => {
    const names = openCautions('certify', []).map(({ name }) => name)
    expect(names.length).toBeGreaterThan(2)
    const left = openCautions('certify', [mark('caution', names[0]), mark('note', names[1])])
    expect(left.map(({ name }) => name)).toEqual(names.slice(1))
  })
})

describe('what the instruments follow', () => {
  const setup: Setup = {
    start: { ...sampleStart, type: 'start', format: 1 } as Setup['start'],
    rating: ratingOf(sampleStart.part),
    rig: sampleRig,
  }
  const fast = { pressureS: 0.1, contactS: 0.05, lagUs: 0.02 }

  test("the error of a rate is the interval's rectangle and the open lag, in quadrature", () => {
    expect(errorAtPa(2, { pressureS: 0.1, contactS: Math.sqrt(12) * 0.3, lagUs: 0.4 })).toBeCloseTo(1, 12)
    expect(errorAtPa(0, fast)).toBe(0)
  })

  test('slower instruments, or a lag known worse, make the greatest good rate smaller in proportion', () => {
    const most = (change: object) => rateBand(setup, { ...fast, ...change }, true).mostPaPerS
    expect(most({ contactS: 0.5, lagUs: 0.2 })).toBeCloseTo(most({}) / 10, 9)
    expect(most({ lagUs: 0.5 })).toBeLessThan(most({}) / 10)
  })

  test('at the greatest good rate the standard error is an eighth of the half tolerance, where the lag decides', () => {
    const late = { ...fast, lagUs: 0.2 }
    const { mostPaPerS } = rateBand(setup, late, true)
    expect(errorAtPa(mostPaPerS, late)).toBeCloseTo(setup.rating.halfTolerancePa / 8, 12)
  })

  test('the slow band leaves room for a stroke that is three times as fast, and voids no cycle by its sampling', () => {
    for (const contactS of [0.05, 0.3, 1.5])
      for (const lagUs of [0.001, 0.1, 2]) {
        const instruments = { pressureS: 0.1, contactS, lagUs }
        const slow = rateBand(setup, instruments, true)
        const brisk = rateBand(setup, instruments, true, { slowPaPerS: slow.aimPaPerS })
        // 0.43 T/Tc: the rectangle of the contact's interval is T/8 there.
        expect(brisk.mostPaPerS).toBeCloseTo((Math.sqrt(12) / 8) * (setup.rating.halfTolerancePa / contactS), 9)
        expect(3 * slow.mostPaPerS).toBeLessThanOrEqual(brisk.mostPaPerS * (1 + 1e-12))
        expect(brisk.aimPaPerS).toBeCloseTo(3 * slow.aimPaPerS, 9)
      }
  })

  test('over a slow pace that is too fast itself the faster strokes are asked for at the most that counts', () => {
    const { aimPaPerS, mostPaPerS } = rateBand(setup, fast, true, { slowPaPerS: 1000 })
    expect(aimPaPerS).toBe(mostPaPerS)
  })

  test('the rate to aim at lies within the band, for any instruments', () => {
    for (const contactS of [0.01, 0.2, 1, 5])
      for (const lagUs of [0.01, 0.5, 4])
        for (const near of [true, false]) {
          const { lowPaPerS, aimPaPerS, mostPaPerS } = rateBand(setup, { pressureS: 0.5, contactS, lagUs }, near)
          expect(lowPaPerS).toBeGreaterThan(0)
          expect(aimPaPerS).toBeGreaterThanOrEqual(lowPaPerS)
          expect(aimPaPerS).toBeLessThanOrEqual(mostPaPerS)
        }
  })
})

describe('createFlowWriter', () => {
  const runWith = (marks: Mark[]) => ({ marks: { items: marks, length: marks.length } }) as unknown as Run
  const due = (marksSeen: number, flow: NonNullable<Live['guide']>['flow']): Live =>
    sampleLive(1, { guide: sampleGuide({ flow, marksSeen }) })

  test('sends a mark once, however often it is due, until it has come back', () => {
    const sent: object[] = []
    const write = createFlowWriter((order) => sent.push(order))
    for (let i = 0; i < 5; i++) write(runWith([]), due(0, { mark: 'zero' }))
    expect(sent).toEqual([{ mark: 'zero', by: 'flow' }])
    const back = runWith([mark('zero')])
    // What is shown lags behind the run and still asks for it.
    for (let i = 0; i < 5; i++) write(back, due(0, { mark: 'zero' }))
    expect(sent).toHaveLength(1)
    write(back, due(1, { mark: 'first-stroke' }))
    expect(sent[1]).toEqual({ mark: 'first-stroke', by: 'flow' })
  })

  test('a mark of the operator in between neither releases nor repeats it', () => {
    const sent: object[] = []
    const write = createFlowWriter((order) => sent.push(order))
    write(runWith([]), due(0, { mark: 'hold' }))
    write(runWith([mark('note', 'x')]), due(1, { mark: 'hold' }))
    expect(sent).toHaveLength(1)
  })

  test('the same mark is sent again where it is due again', () => {
    const sent: object[] = []
    const write = createFlowWriter((order) => sent.push(order))
    write(runWith([]), due(0, { mark: 'zero' }))
    write(runWith([mark('zero')]), due(1, null))
    write(runWith([mark('zero')]), due(1, { mark: 'zero' }))
    expect(sent).toHaveLength(2)
  })

  test('where nothing is guided nothing is sent', () => {
    const sent: object[] = []
    createFlowWriter((order) => sent.push(order))(runWith([]), sampleLive(1, { guide: null }))
    expect(sent).toEqual([])
  })
})

test('what was skipped is left out until it is begun after all', () => {
  const skip = (step: StepName, reason: string) => mark('note', skipNote(step, reason))
  expect(leftOutOf([mark('zero'), skip('hold', 'leaks: known'), skip('closing-zero', 'late')])).toEqual([
    { step: 'hold', reason: 'leaks: known' },
    { step: 'closing-zero', reason: 'late' },
  ])
  expect(leftOutOf([skip('hold', 'a'), mark('hold'), skip('closing-zero', 'b'), mark('zero')])).toEqual([])
  expect(leftOutOf([skip('fast-cycles', 'a'), mark('note', stepRow('fast-cycles').mark!.text)])).toEqual([])
  expect(leftOutOf([skip('hold', 'a'), skip('hold', 'b'), mark('note', 'Skipped lunch: c')])).toEqual([
    { step: 'hold', reason: 'b' },
  ])
})
