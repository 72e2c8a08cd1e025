// A run and its assessment into how far the guided test is: every step with its progress, and which one is at hand.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { cyclesToSettle } from '../decision/settling.ts'
import type { Run } from '../intake/run.ts'
import { cautionsReadUs, openCautions } from '../model/cautions.ts'
import type { Mark } from '../model/marks.ts'
import { toArray } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { type FlowPlan, type StepName, strokesOf, testSteps } from '../plan/test-steps.table.ts'
import { type Paces, pacesOf } from './paces.ts'
import { type Pinch, pinchOf } from './pinch.ts'
import { heldS, ventedSinceUs } from './quiet.ts'
import { begunUs, planOf, type Step, skipsOf } from './step.ts'

export type Course = {
  plan: FlowPlan
  step: StepName
  steps: Step[]
  marks: readonly Mark[]
  /** Slow cycles that count, and how many are wanted, with those that would settle an undecided result. */
  used: number
  wanted: number
  /** More than planned: an undecided result asked for them. */
  extra: number
  /** The result stays undecided however many cycles are added. */
  hopeless: boolean
  ventedSinceUs: number | null
  /** When the strokes began to count, µs; null while they do not. */
  countingSinceUs: number | null
  /** The mark of the closing zero, with no stroke after it, µs. */
  closingSinceUs: number | null
  paces: Paces
  /** Seconds held in the stroke in progress: the longest stay, and the one that goes on. */
  held: { longestS: number; nowS: number }
  /** null where no second manometer could tell of it. */
  pinch: Pinch | null
}

/** What of the flow is done by this session: whether it writes marks, and whether cautions wait for a key. */
export type FlowOptions = { writes: boolean; asks: boolean }

/** How far the test is. A recording without marks has no preconditioning: all its later strokes count. */
export function courseOf(run: Run, setup: Setup, assessment: Assessment, { writes, asks }: FlowOptions): Course {
  const { zeroS, zeroDelayUs, holdS } = criteria
  const marks = toArray(run.marks)
  const strokes = toArray(run.strokes)
  const { current } = run.tracker
  const plan = planOf(marks)
  const skips = skipsOf(marks)
  const begun = strokes.length > 0 || current !== null
  const readUs = cautionsReadUs(setup.start.purpose, marks)
  const after = (sinceUs: number | null) =>
    strokes.filter((s) => sinceUs !== null && s.startUs >= Math.max(sinceUs, readUs)).length

  const vented = ventedSinceUs(run, setup, assessment)
  const restS = (sinceUs: number | null) =>
    sinceUs === null || vented === null ? 0 : Math.max(0, (run.tUs - Math.max(sinceUs + zeroDelayUs, vented)) / 1e6)
  const open = openCautions(setup.start.purpose, marks)
  const zeroSinceUs = begunUs(marks, 'zero')
  const zeroRestS = Math.min(zeroS, restS(zeroSinceUs))
  const zeroDone = begun || begunUs(marks, 'first-stroke') !== null || zeroRestS >= zeroS
  const lastStrokeUs = current?.startUs ?? strokes.at(-1)?.startUs ?? null
  const closingSinceUs =
    zeroSinceUs !== null && lastStrokeUs !== null && zeroSinceUs > lastStrokeUs ? zeroSinceUs : null
  const closingS = Math.min(zeroS, restS(closingSinceUs))

  const [preSinceUs, cyclesSinceUs] = [begunUs(marks, 'precondition'), begunUs(marks, 'cycles')]
  const unmarked = !writes && preSinceUs === null && begunUs(marks, 'first-stroke') === null
  const counting = cyclesSinceUs !== null ? cyclesSinceUs > (preSinceUs ?? -1) : unmarked
  const countingSinceUs = counting ? (cyclesSinceUs ?? 0) : null

  // A hold in a stroke of preconditioning that came before it was asked for is a hold all the same.
  const holdSinceUs = begunUs(marks, 'hold')
  const heldSinceUs = Math.min(holdSinceUs ?? Number.POSITIVE_INFINITY, preSinceUs ?? Number.POSITIVE_INFINITY)
  const heldDone = strokes.some((s) => s.startUs >= heldSinceUs && heldS(run, setup, s).longestS >= holdS)
  const held = current === null ? { longestS: 0, nowS: 0 } : heldS(run, setup, { ...current, endUs: run.tUs })
  const pre = after(preSinceUs) - (counting ? after(cyclesSinceUs) : 0)
  const preAsked = strokesOf('precondition', plan) + (heldDone && plan.preconditioning > 0 ? 1 : 0)

  const paces = pacesOf(assessment, begunUs(marks, 'fast-cycles'))
  const briskPlanned = strokesOf('fast-cycles', plan)
  // Where a lag that they leave open keeps a limit undecided as many again are asked for, once.
  const lagOpen = assessment?.result.findings.some((f) => f.code === 'lag-not-proved') ?? false
  const briskAsked = paces.brisk >= briskPlanned && lagOpen ? 2 * briskPlanned : briskPlanned
  const briskOver = paces.brisk >= briskAsked || skips.has('fast-cycles')
  const used = (assessment?.result.cycles.filter((c) => c.used).length ?? 0) - paces.brisk
  const settle = assessment && briskOver && used >= plan.cycles ? cyclesToSettle(assessment.settlings) : 0
  const wanted = Math.max(plan.cycles, (settle ?? 0) - paces.brisk)

  const pinch = pinchOf(run, setup, assessment, counting)
  const pinchS = criteria.pinchUs / 1e6

  const progress: Record<StepName, { done: number; asked: number; over: boolean }> = {
    cautions: { done: 0, asked: 0, over: open.length === 0 },
    zero: { done: zeroDone ? zeroS : zeroRestS, asked: zeroS, over: zeroDone },
    'first-stroke': { done: strokes.length, asked: 1, over: strokes.length > 0 },
    precondition: { done: pre, asked: preAsked, over: strokes.length > 0 && pre >= preAsked },
    // Until it is vented nothing else is asked: whoever draws on would draw against a pinched hose.
    pinch: { done: pinch?.longestS ?? 0, asked: pinchS, over: pinch?.nowS === 0 && pinch.longestS >= pinchS },
    hold: { done: heldDone ? holdS : held.longestS, asked: holdS, over: heldDone },
    cycles: { done: used, asked: wanted, over: counting && used >= wanted },
    'fast-cycles': { done: paces.brisk, asked: briskAsked, over: paces.brisk >= briskAsked },
    'closing-zero': { done: closingS, asked: zeroS, over: closingS >= zeroS },
    verdict: { done: 0, asked: 0, over: false },
  }
  // The closing zero is the last thing asked: in a recording that has come so far what comes before it is over.
  const isPassed = (name: StepName): boolean => {
    // Where they wait for a key nothing goes on before it: strokes until then do not count.
    if (name === 'cautions') return begun && !asks
    if (name === 'precondition' || name === 'pinch') return counting
    // In older recordings the hold comes after the cycles.
    if (name === 'hold') return counting && plan.preconditioning > 0 && (holdSinceUs ?? -1) < (countingSinceUs ?? 0)
    return name === 'fast-cycles' && !writes && closingSinceUs !== null && counting
  }
  const left = (name: StepName) => !progress[name].over && (skips.has(name) || isPassed(name))
  const rows = testSteps.filter(
    ({ name }) =>
      (name !== 'cautions' || asks || open.length === 0) &&
      (name !== 'precondition' || strokesOf(name, plan) > 0) &&
      (name !== 'pinch' || pinch !== null),
  )
  const next = rows.find(({ name }) => !progress[name].over && !left(name))?.name
  const at = run.end === null ? (next ?? 'verdict') : 'verdict'
  const place = rows.findIndex((r) => r.name === at)
  const steps = rows.map(({ name, asks: asked }, i): Step => {
    const { done, asked: most, over } = progress[name]
    const state = name === at ? 'now' : over ? 'done' : left(name) || i < place ? 'skipped' : 'todo'
    const inSeconds = asked !== null && !('strokes' in asked && asked.holdS === 0)
    const counted = asked !== null && name !== 'first-stroke'
    const of = inSeconds ? ('s' as const) : ('strokes' as const)
    return { name, state, progress: counted ? { done: Math.floor(Math.min(done, most)), wanted: most, of } : null }
  })
  return {
    plan,
    step: at,
    steps,
    marks,
    used,
    wanted,
    extra: Math.max(0, wanted - plan.cycles),
    hopeless: settle === null,
    ventedSinceUs: vented,
    countingSinceUs,
    closingSinceUs,
    paces,
    held,
    pinch,
  }
}
