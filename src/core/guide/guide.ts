// A run into what the hands do next: the step, one action word, a sentence, the rate, the next point, and the mark that is due.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { openCautions } from '../model/cautions.ts'
import { isInRange } from '../model/samples.ts'
import type { Setup } from '../model/setup.ts'
import type { FlowPlan } from '../plan/test-steps.table.ts'
import { rateNow, ratesUpToNow } from '../signal/rate-now.ts'
import { courseOf, type FlowOptions } from './course.ts'
import { type Doing, doingOf } from './doing.ts'
import { flowMark } from './flow-mark.ts'
import type { Guide } from './guidance.ts'
import { handError, tremorOf } from './hand-error.ts'
import { instrumentsOf, rateBand } from './instruments.ts'
import { type Pace, paceOf } from './pace.ts'
import { type StrokeNow, strokeNow } from './stroke-now.ts'
import { troubleOf } from './trouble.ts'
import { typedGuide } from './typed-guide.ts'
import { keyDue } from './typed-key.ts'

/** What this session does of the flow. `plan` null: it writes no marks, as in a replay. */
export type Flow = { plan: FlowPlan | null; asks: boolean }

/** A recording that is only watched. */
export const watching: Flow = { plan: null, asks: false }

/** Purposes for which nothing is decided: whoever measures knows what for, so nothing is guided. */
const unguided: readonly Setup['start']['purpose'][] = ['free', 'leak', 'in-place']

/** The guide of a run; null where its purpose has none, before the first reading and after the end. */
export function guideOf(run: Run, setup: Setup, assessment: Assessment, flow: Flow): Guide | null {
  if (unguided.includes(setup.start.purpose)) return null
  if (setup.rig.typed.pressure) return typedGuide(run, setup, assessment, flow)
  const options: FlowOptions = { writes: flow.plan !== null, asks: flow.asks }
  const course = courseOf(run, setup, assessment, options)
  const sample = run.pressure.at(-1)
  const pressurePa = sample && isInRange(sample.rawPa) ? sample.rawPa - run.tracker.zeroPa : null
  const instruments = instrumentsOf(run, setup, assessment)
  const rates = ratesUpToNow(run.pressure, criteria.paceEveryUs, criteria.paceRates)
  const nowPaPerS = rates.at(-1) ?? 0
  const stroke = pressurePa === null ? null : strokeNow(run, setup, assessment, pressurePa, nowPaPerS)
  const trouble = pressurePa === null ? null : troubleOf(run, setup, assessment, stroke, pressurePa)
  const brisk = course.step === 'fast-cycles' ? course.paces : null
  const bandAt = (nearTrip: boolean) => rateBand(setup, instruments, nearTrip, brisk)
  const band = bandAt(stroke?.nearTrip ?? false)
  // A kick stands still for a moment too: slow is what stays so.
  const steadyPaPerS = Math.max(Math.abs(nowPaPerS), Math.abs(rateNow(run.pressure, criteria.steadyUs) ?? 0))
  // Venting and resting, the pace is nobody's business.
  const paced = stroke !== null && stroke.leg !== 'out'
  const pace: Pace = paced ? paceOf(rates, steadyPaPerS, band) : 'free'
  const soon = stroke?.approaching && Math.abs(nowPaPerS) > bandAt(true).mostPaPerS
  const seen = {
    run,
    setup,
    assessment,
    course,
    stroke,
    pressurePa,
    briskPaPerS: brisk && bandAt(true).aimPaPerS,
    pace,
    soon: soon ?? false,
    trouble,
    asks: flow.asks,
  }
  const doing = doingOf(seen)
  const onWay = stroke !== null && (stroke.leg === 'to-make' || stroke.leg === 'to-break')
  return {
    step: course.step,
    steps: course.steps,
    action: doing.action,
    sentence: doing.sentence,
    cautions: flow.asks ? openCautions(setup.start.purpose, course.marks) : [],
    rate: pressurePa === null ? null : { ...band, nowPaPerS, pace, nearTrip: stroke?.nearTrip ?? false },
    target: pressurePa === null ? null : targetOf(stroke, course.step, doing, pressurePa, setup),
    error:
      onWay && stroke.nearTrip && brisk === null
        ? handError(
            setup,
            assessment,
            stroke.leg === 'to-make' ? 'make' : 'break',
            Math.abs(nowPaPerS),
            band,
            instruments,
          )
        : null,
    ballast: onWay && stroke.settled ? tremorOf(run, setup, assessment, instruments) : null,
    trouble: trouble?.text ?? null,
    more: course.extra > 0 && course.step === 'cycles' ? course.wanted - course.used : 0,
    heldS: course.held.nowS,
    flow:
      flow.plan === null
        ? null
        : flowMark(run, course, flow.plan, { blocked: trouble?.stops ?? false, asks: flow.asks }),
    marksSeen: course.marks.length,
    typed: setup.rig.typed.contact && { ask: null, key: keyDue(run, setup.rig) },
  }
}

function targetOf(
  stroke: StrokeNow | null,
  step: Guide['step'],
  doing: Doing,
  pressurePa: number,
  setup: Setup,
): Guide['target'] {
  const to = (name: NonNullable<Guide['target']>['name'], targetPa: number) => ({
    name,
    pressurePa: targetPa,
    leftPa: Math.abs(targetPa - pressurePa),
  })
  if (doing.action === 'vent' || doing.action === 'stop' || stroke?.leg === 'too-high') return null
  if (step === 'hold' && (doing.action === 'draw' || doing.action === 'hold'))
    return to('hold', criteria.holdShare * setup.rating.ratedPa)
  if (step === 'pinch') return to('hold', criteria.pinchShare * setup.rating.ratedPa)
  if (stroke === null) return null
  if (stroke.leg === 'to-make') return to('make', stroke.targetPa)
  if (stroke.leg === 'to-peak') return to('peak', stroke.targetPa)
  return stroke.leg === 'to-break' ? to('break', stroke.targetPa) : null
}
