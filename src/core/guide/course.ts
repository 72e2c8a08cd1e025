// A run and its standing into where the guided test stands: every step with its progress, and which one is at hand.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { cyclesToSettle } from '../decision/settling.ts'
import type { Run } from '../intake/run.ts'
import type { Mark } from '../model/marks.ts'
import { toArray } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { openCautions } from './cautions.ts'
import { lagIsPoor } from './instruments.ts'
import { heldS, ventedSinceUs } from './quiet.ts'
import { type FlowPlan, fastSinceUs, planOf, type Step, type StepName, skipsOf } from './step.ts'

export type Course = {
  plan: FlowPlan
  step: StepName
  steps: Step[]
  marks: readonly Mark[]
  /** Cycles that count, and how many are wanted, with those that would settle an undecided result. */
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
  holdSinceUs: number | null
  fastSinceUs: number | null
  /** Seconds held so far in the hold that is going on. */
  heldNowS: number
}

/** What of the flow is done by this session: whether it writes marks, and whether cautions wait for a key. */
export type FlowOptions = { writes: boolean; asks: boolean }

/** Where the test stands. A recording without marks has no preconditioning: all its later strokes count. */
export function courseOf(run: Run, setup: Setup, assessment: Assessment, { writes, asks }: FlowOptions): Course {
  const { zeroS, zeroDelayUs, fastCycles, holdS } = criteria
  const marks = toArray(run.marks)
  const strokes = toArray(run.strokes)
  const { current } = run.tracker
  const plan = planOf(marks)
  const skips = skipsOf(marks)
  const lastOf = (name: Mark['mark']) => marks.findLast((m) => m.mark === name)?.tUs ?? null
  const vented = ventedSinceUs(run, setup)
  const restS = (sinceUs: number | null) =>
    sinceUs === null || vented === null ? 0 : Math.max(0, (run.tUs - Math.max(sinceUs + zeroDelayUs, vented)) / 1e6)
  const begun = strokes.length > 0 || current !== null
  const after = (sinceUs: number | null) => strokes.filter((s) => sinceUs !== null && s.startUs >= sinceUs).length

  const open = openCautions(setup.start.purpose, marks)
  const zeroRestS = Math.min(zeroS, restS(lastOf('zero')))
  const zeroDone = begun || lastOf('first-stroke') !== null || zeroRestS >= zeroS

  const [preSinceUs, cyclesSinceUs] = [lastOf('precondition'), lastOf('cycles')]
  const unmarked = !writes && preSinceUs === null && lastOf('first-stroke') === null
  const counting = cyclesSinceUs !== null ? cyclesSinceUs > (preSinceUs ?? -1) : unmarked
  const pre = after(preSinceUs) - (counting ? after(cyclesSinceUs) : 0)
  const countingSinceUs = counting ? (cyclesSinceUs ?? 0) : null

  const used = assessment?.result.cycles.filter((c) => c.used).length ?? 0
  const settle = assessment && used >= plan.cycles ? cyclesToSettle(assessment.settlings) : 0
  const wanted = Math.max(plan.cycles, settle ?? 0)

  const fastUs = fastSinceUs(marks)
  const slowAgain = assessment !== null && lagIsPoor(assessment, setup)
  const fastWanted = fastUs !== null || (writes && slowAgain)
  const fastDone = Math.min(fastCycles, after(fastUs))

  const holdSinceUs = lastOf('hold')
  const S = setup.rating.ratedPa
  const held =
    holdSinceUs === null
      ? { longestS: 0, nowS: 0 }
      : heldS(run, holdSinceUs, criteria.holdFromShare * S, criteria.holdToShare * S)

  const lastStrokeUs = current?.startUs ?? strokes.at(-1)?.startUs ?? null
  const lastZeroUs = lastOf('zero')
  const closingSinceUs = lastZeroUs !== null && lastStrokeUs !== null && lastZeroUs > lastStrokeUs ? lastZeroUs : null
  const closingS = Math.min(zeroS, restS(closingSinceUs))

  const rows: { name: StepName; done: boolean; progress: Step['progress'] }[] = [
    ...(asks || open.length === 0 ? [{ name: 'cautions' as const, done: open.length === 0, progress: null }] : []),
    { name: 'zero', done: zeroDone, progress: seconds(zeroDone ? zeroS : zeroRestS, zeroS) },
    { name: 'first-stroke', done: strokes.length > 0, progress: null },
    ...(plan.preconditioning > 0 || preSinceUs !== null
      ? [
          {
            name: 'precondition' as const,
            done: strokes.length > 0 && pre >= plan.preconditioning,
            progress: ofStrokes(Math.min(pre, plan.preconditioning), plan.preconditioning),
          },
        ]
      : []),
    { name: 'cycles', done: counting && used >= wanted, progress: ofStrokes(Math.min(used, wanted), wanted) },
    ...(fastWanted
      ? [
          {
            name: 'fast-cycles' as const,
            done: fastDone >= fastCycles || (fastUs !== null && fastDone > 0 && !slowAgain),
            progress: ofStrokes(fastDone, fastCycles),
          },
        ]
      : []),
    {
      name: 'hold',
      done: held.longestS >= holdS,
      progress: seconds(Math.min(held.longestS, holdS), holdS),
    },
    { name: 'closing-zero', done: closingS >= zeroS, progress: seconds(closingS, zeroS) },
    { name: 'verdict', done: false, progress: null },
  ]
  const left = (name: StepName, done: boolean) => !done && (skips.has(name) || isPassed(name))
  // The closing zero is the last thing asked: in a recording that has come so far what stands before it is over.
  function isPassed(name: StepName): boolean {
    if (name === 'cautions') return begun
    if (name === 'precondition') return counting
    const late = !writes && closingSinceUs !== null && counting
    return late && (name === 'hold' || name === 'fast-cycles')
  }
  const at = run.end === null ? (rows.find((r) => !r.done && !left(r.name, r.done))?.name ?? 'verdict') : 'verdict'
  const place = rows.findIndex((r) => r.name === at)
  const steps = rows.map(({ name, done, progress }, i): Step => {
    const state = name === at ? 'now' : done ? 'done' : left(name, done) || i < place ? 'skipped' : 'todo'
    return { name, state, progress }
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
    holdSinceUs,
    fastSinceUs: fastUs,
    heldNowS: held.nowS,
  }
}

const seconds = (done: number, wanted: number) => ({ done: Math.floor(done), wanted, of: 's' as const })
const ofStrokes = (done: number, wanted: number) => ({ done, wanted, of: 'strokes' as const })
