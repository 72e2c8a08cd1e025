// The guide over whole tests on simulated benches: which marks it writes, when it goes on, and what it makes of faults.

import { expect, test } from 'vitest'
import { assess } from '../../../src/core/assess.ts'
import { criteria } from '../../../src/core/criteria.table.ts'
import { guideOf, watching } from '../../../src/core/guide/guide.ts'
import { step } from '../../../src/core/intake/run.ts'
import { resultOf } from '../../../src/core/judge.ts'
import { stepRow } from '../../../src/core/plan/test-steps.table.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import type { Scenario } from '../../../src/simulation/scenario.ts'
import { newRun, readEvent } from '../../harness/fold-events.ts'
import { type Guided, runGuided, toldBy, usualFlow } from '../../harness/guided-run.ts'

const good = findScenario('good', 1)
const askFaster = `note: ${stepRow('fast-cycles').mark!.text}`
const flowMarks = ['zero', 'first-stroke', 'precondition', 'hold', 'cycles', askFaster, 'zero']
const stepsSeen = ({ seen }: Guided) => seen.map(({ guide }) => guide.step).filter((s, i, all) => s !== all[i - 1])
const stepStates = ({ seen }: Guided) => seen.at(-1)!.guide.steps.map(({ name, state }) => `${name} ${state}`)
const changed = (scenario: Scenario, change: Partial<Scenario['truth']['switch']>): Scenario => ({
  ...scenario,
  truth: { ...scenario.truth, switch: { ...scenario.truth.switch, ...change } },
})

const whole = runGuided(good)

test('a good part is led to its verdict without a key: each mark is written once, each step follows the one before', () => {
  expect(whole.marks).toEqual(flowMarks)
  expect(stepsSeen(whole)).toEqual([
    'zero',
    'first-stroke',
    'precondition',
    'hold',
    'cycles',
    'fast-cycles',
    'closing-zero',
    'verdict',
  ])
  const result = resultOf(whole.run)!
  expect(result.verdict).toBe('pass')
  expect(result.cycles.map((c) => c.why ?? 'counted')).toEqual([
    'first-stroke',
    ...Array(3).fill('precondition'),
    ...Array(result.cycles.length - 4).fill('counted'),
  ])
  // The two faster strokes count as well; the stroke that was held does not.
  expect(result.make.n).toBe(7)
})

test('with a second manometer the hose is pinched before the hold, without a key and without a mark', () => {
  const guided = runGuided(findScenario('two-manometers', 1))
  expect(guided.marks).toEqual(flowMarks)
  expect(stepsSeen(guided).slice(1, 5)).toEqual(['first-stroke', 'precondition', 'pinch', 'hold'])
  const told = guided.seen.filter(({ guide }) => guide.step === 'pinch')
  expect(told.map(({ guide }) => guide.action)).toEqual(expect.arrayContaining(['draw', 'hold']))
  expect(told.find(({ guide }) => guide.action === 'draw')!.guide.sentence).toMatch(
    /^Pinch the hose that feeds both the switch and the second manometer, .* draw to 0\.06\d* inH2O .* for 3 s/,
  )
  // Nobody is sent on to draw while the hose is pinched.
  const drawn = told.filter(({ guide }) => guide.action === 'vent')
  expect(drawn.at(-1)!.guide.sentence).toBe('It sits at the switch. Vent, then let go of the hose.')
  expect(resultOf(guided.run)!.findings).toEqual([])
  // It is no stroke: as many strokes as without.
  expect(guided.run.strokes.length).toBe(whole.run.strokes.length)
})

test('a second manometer at the tee is asked for again, until the step is skipped', () => {
  const scenario = findScenario('two-manometers', 1)
  const guided = runGuided({ ...scenario, truth: { ...scenario.truth, secondAtTee: true } }, { limitS: 300 })
  expect(stepsSeen(guided).at(-1)).toBe('pinch')
  expect(guided.seen.some(({ guide }) => guide.sentence.startsWith('The second manometer follows:'))).toBe(true)
})

test('the hand is told what to do in the order of a stroke', () => {
  const words = toldBy(whole).map((told) => told.split(':')[0]!)
  const turns = words
    .filter((word) => word !== 'slower' && word !== 'faster')
    .filter((word, i, all) => word !== all[i - 1])
  const strokes = whole.run.strokes.length
  expect(turns).toEqual([
    'wait',
    ...Array.from({ length: strokes }, (_, i) => ['draw', ...(i === 3 ? ['hold'] : []), 'let-down', 'vent']).flat(),
    'wait',
  ])
})

test('the faster strokes are asked for in words and numbers, with their own band, and are drawn so', () => {
  const asked = whole.seen.filter(({ guide }) => guide.step === 'fast-cycles')
  const rest = asked.find(({ guide }) => guide.action === 'draw')!
  expect(rest.guide.sentence).toMatch(/^Draw this stroke faster: 0\.0\d+ inH2O\/s \(\d\.\d Pa\/s\), up and down/)
  const near = asked.find(({ guide }) => guide.rate?.nearTrip)!.guide.rate!
  const slow = whole.seen.find(({ guide }) => guide.step === 'cycles' && guide.rate?.nearTrip)!.guide.rate!
  const { cycles } = resultOf(whole.run)!
  const rates = cycles.filter((c) => c.used).map((c) => c.makeRatePaPerS!)
  const [slowest, fast] = [Math.min(...rates.slice(0, 5)), rates.slice(5)]
  expect(fast).toHaveLength(2)
  for (const rate of fast) {
    expect(rate).toBeGreaterThan(criteria.lagRateRatio * slowest)
    expect(rate).toBeGreaterThan(near.lowPaPerS)
    expect(rate).toBeLessThan(near.mostPaPerS)
  }
  expect(near.lowPaPerS).toBeGreaterThan(criteria.lagRateRatio * slowest)
  expect(criteria.briskRatio * slow.mostPaPerS).toBeLessThanOrEqual(near.mostPaPerS * (1 + 1e-12))
  expect(asked.filter(({ guide }) => guide.error !== null)).toEqual([])
})

test('strokes that are no faster are not taken for faster ones: it goes on asking, and skipped it ends', () => {
  const slow = { ...good, plan: { ...good.plan, briskFactor: 1.1 } }
  const asking = runGuided(slow, { limitS: 600 })
  expect(asking.seen.at(-1)!.guide.step).toBe('fast-cycles')
  expect(asking.run.strokes.length).toBeGreaterThan(12)
  const operator = [{ atS: 550, mark: 'note' as const, text: 'Skipped fast-cycles: a stiff plunger' }]
  const skipped = runGuided(slow, { operator })
  expect(stepStates(skipped)).toContain('fast-cycles skipped')
  expect(skipped.seen.at(-1)!.guide.step).toBe('verdict')
})

test('played back, the same recording shows the same steps and asks for no mark', () => {
  let run = newRun()
  let assessment = null as ReturnType<typeof assess>
  const steps: string[] = []
  for (const event of whole.events) {
    run = step(run, readEvent(event))
    if (run.setup === null || !('type' in event) || event.type !== 'tick') continue
    assessment = assess(run, assessment)
    const guide = guideOf(run, run.setup, assessment, watching)!
    expect(guide.flow).toBeNull()
    if (steps.at(-1) !== guide.step) steps.push(guide.step)
  }
  // Between the end of a step and the mark of the next the two may differ for a moment, never in their order.
  expect(steps.filter((s) => s !== 'verdict')).toEqual(stepsSeen(whole).slice(0, -1))
})

test('begun with the pressure on, it asks to vent first; zero and first stroke are still to come', () => {
  const { peakUs, endUs } = whole.run.strokes.items[0]!
  const [start, ...rest] = whole.events as { type: string; t: number }[]
  let run = step(newRun(), readEvent(start!))
  const told: string[] = []
  for (const event of rest.filter((e) => e.type !== 'mark' && e.t > peakUs && e.t < endUs + 3e6)) {
    run = step(run, readEvent(event))
    const guide = guideOf(run, run.setup!, assess(run, null), usualFlow)!
    const now = `${guide.step}: ${guide.action}, ${guide.flow?.mark ?? 'no mark'}`
    if (run.pressure.length > 0 && told.at(-1) !== now) told.push(now)
    if (guide.action === 'vent') expect(guide.sentence).toMatch(/^It shows .* Pa\) already: .* open both ports/)
  }
  expect(told).toEqual(['zero: vent, no mark', 'zero: wait, no mark', 'zero: wait, zero'])
  expect(run.strokes.length).toBe(0)
})

test('a hand that goes by a plan of its own is followed', () => {
  const plan = { ...good.plan, zeroS: 14, cycles: 5, slowPaPerS: [1.2] }
  const own = runGuided({ ...good, plan }, { orders: 'plan' })
  expect(own.marks).toEqual(flowMarks)
  expect(stepStates(own).filter((text) => text.endsWith('skipped'))).toEqual([])
  expect(resultOf(own.run)!.verdict).toBe('pass')
})

test('a hold that is left out is asked for until it is done or skipped; no stroke counts meanwhile', () => {
  const hasty = { ...good, plan: { ...good.plan, zeroS: 14, holdInPreconditionS: 0 } }
  const asking = runGuided(hasty, { orders: 'plan', limitS: 700 })
  expect(asking.marks).toEqual(flowMarks.slice(0, 4))
  expect(asking.seen.at(-1)!.guide).toMatchObject({ step: 'hold', action: 'draw' })
  expect(resultOf(asking.run)!.make.n).toBe(0)
  const operator = [{ atS: 170, mark: 'note' as const, text: 'Skipped hold: no time' }]
  expect(runGuided(hasty, { orders: 'plan', limitS: 250, operator }).marks).toContain('cycles')
})

test('a hold that came before it was asked for is a hold all the same', () => {
  const run = runGuided(
    { ...good, plan: { ...good.plan, preconditioning: 1, zeroS: 14 } },
    {
      orders: 'plan',
      flow: { plan: { preconditioning: 3, cycles: 5 }, asks: false },
      limitS: 150,
    },
  )
  expect(run.marks).not.toContain('hold')
  expect(stepStates(run)).toContain('hold done')
})

test('a plan other than the usual one is kept in the recording, and followed', () => {
  const plan = { preconditioning: 0, cycles: 6 }
  const run = runGuided(good, { flow: { plan, asks: false } })
  expect(run.marks).toEqual([
    'note: Plan: preconditioning strokes 0, cycles 6',
    'zero',
    'first-stroke',
    'cycles',
    'hold',
    askFaster,
    'zero',
  ])
  // Without preconditioning the stroke that is held is the first that counts.
  expect(resultOf(run.run)!.make.n).toBe(8)
  expect(run.seen.at(-1)!.live.wanted).toBe(8)
})

test('a step skipped by the operator is left out with its reason', () => {
  const operator = [{ atS: 60, mark: 'note' as const, text: 'Skipped precondition: done yesterday' }]
  const run = runGuided(good, { operator, limitS: 200 })
  expect(run.marks.slice(0, 5)).toEqual([
    'zero',
    'first-stroke',
    'precondition',
    'note: Skipped precondition: done yesterday',
    'hold',
  ])
  expect(stepStates(run)).toContain('precondition skipped')
})

test('leads on the other throw are caught in the first stroke, and nothing goes on', () => {
  const run = runGuided(findScenario('nc-pair', 1), { limitS: 60 })
  expect(run.marks).toEqual(['zero', 'first-stroke'])
  const stop = run.seen.find(({ guide }) => guide.action === 'stop')!
  expect(stop.guide.sentence).toMatch(/leads sit on COM and NC\. Move the lead from NC to NO/)
  expect(stop.live.pressurePa).toBeGreaterThan(50)
  // Before anything is drawn it is said what a contact closed at rest may mean.
  expect(run.seen[30]!.guide.trouble).toMatch(/closed at rest/)
})

test('a kick without a contact names terminal and lead before the first stroke is over', () => {
  const run = runGuided(findScenario('no-common', 1), { limitS: 50 })
  const stop = run.seen.find(({ guide }) => guide.action === 'stop')!
  expect(stop.guide.sentence).toMatch(/^Moved, but no contact: .*one lead is on COM/)
  expect(run.run.strokes.length).toBeLessThanOrEqual(1)
  expect(run.marks).not.toContain('precondition')
})

test('suction that shows as pressure stops the first stroke and names port and sign', () => {
  const { rig } = good
  const turned: Scenario = { ...good, rig: { ...rig, manometer: { ...rig.manometer!, suctionSign: 1 } } }
  const run = runGuided(turned, { limitS: 40 })
  const told = toldBy(run).find((text) => text.startsWith('stop'))
  expect(told).toMatch(/wrong way/)
  expect(told).toMatch(/other port/)
  expect(told).toMatch(/sign of the manometer/)
  expect(run.run.strokes.length).toBe(0)
})

test('a part that never makes is let down, and the test stops', () => {
  const run = runGuided(findScenario('never-makes', 1), { limitS: 120 })
  const words = toldBy(run).map((told) => told.split(':')[0])
  expect(words.filter((word, i) => word !== words[i - 1])).toEqual(['wait', 'draw', 'let-down', 'stop'])
  expect(run.marks).toEqual(['zero', 'first-stroke'])
})

test('a hand that turns back before a trip is stopped', () => {
  const run = runGuided(findScenario('hasty-hand', 1), { limitS: 60 })
  expect(toldBy(run).filter((t) => t.includes('this cycle is void: reversed at the trip')).length).toBeGreaterThan(0)
})

test('a kick is never taken for a hand that turns back', () => {
  for (const guided of [whole, runGuided(findScenario('no-common', 1), { limitS: 50 })])
    expect(guided.seen.filter(({ guide }) => guide.sentence.includes('reversed'))).toEqual([])
})

test('a jerking plunger is told with the ballast that would quieten it; a smooth hand is left alone', () => {
  const jerks = runGuided(findScenario('no-ballast', 1), { limitS: 120 })
  const told = jerks.seen.flatMap(({ guide }) => guide.ballast ?? [])
  expect(told.length).toBeGreaterThan(5)
  expect(told[0]!.litres).toBe(5)
  expect(whole.seen.filter(({ guide }) => guide.ballast !== null).length).toBeLessThan(whole.seen.length / 200)
})

test('an undecided result says how many more cycles would settle it, and the same recording goes on to the verdict', () => {
  // A make near its upper limit of 0.28 inH2O (69.8 Pa), scattered so that seven cycles leave it open.
  const near = changed(good, { makePa: 67.6, breakPa: 52, scatterPa: 1.2 })
  const run = runGuided(near, { seed: 9 })
  const asked = run.seen.filter(({ guide }) => guide.more > 0)
  expect(asked.length).toBeGreaterThan(0)
  expect(asked.map(({ guide }) => guide.sentence).join()).toMatch(/Undecided so far: \d+ more cycles? would settle it/)
  const result = resultOf(run.run)!
  expect(result.verdict).toBe('pass')
  expect(result.make.n).toBeGreaterThan(7)
  expect(run.marks.filter((m) => m === 'cycles')).toHaveLength(1)
})

test('a lag that keeps a limit open is answered by two more faster strokes, once, and not by slow cycles', () => {
  // A make so near its lower limit of 0.22 inH2O (54.8 Pa) that two faster strokes may leave a late hose open.
  const near = changed(good, { makePa: 56.7, breakPa: 46, scatterPa: 0.5 })
  const ends = [1, 2].map((seed) => {
    const run = runGuided(near, { seed })
    const asked = run.seen.flatMap(({ guide }) => guide.steps.find((s) => s.name === 'fast-cycles')!.progress!.wanted)
    const { verdict, findings } = resultOf(run.run)!
    return { most: Math.max(...asked), more: run.seen.some(({ guide }) => guide.more > 0), verdict, findings }
  })
  expect(ends.map(({ most, more }) => ({ most, more }))).toEqual(Array(2).fill({ most: 4, more: false }))
  expect(ends.map(({ verdict }) => verdict)).toEqual(['pass', 'undecided'])
  expect(ends[1]!.findings.map((f) => f.code)).toEqual(['lag-not-proved'])
})

test('a noisy manometer at rest is at rest: the zero is asked for, and the test goes on', () => {
  const noisy = { ...good, truth: { ...good.truth, manometer: { ...good.truth.manometer, noisePa: 0.6 } } }
  expect(runGuided(noisy, { limitS: 60 }).marks).toEqual(['zero', 'first-stroke', 'precondition'])
})

test('purposes without a verdict are not guided', () => {
  const setup = { ...whole.run.setup!, start: { ...whole.run.setup!.start, purpose: 'free' as const } }
  expect(guideOf(whole.run, setup, null, usualFlow)).toBeNull()
})
