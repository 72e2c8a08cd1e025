// A test whose pressures are typed into what is typed next, what the hands do, and the mark that is due.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { cyclesToSettle } from '../decision/settling.ts'
import type { Run } from '../intake/run.ts'
import { cautionsWaitNote, openCautions } from '../model/cautions.ts'
import type { Mark } from '../model/marks.ts'
import { toArray } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { type FlowPlan, type StepName, strokesOf, testSteps } from '../plan/test-steps.table.ts'
import { type Edge, findEdges } from '../strokes/edges.ts'
import { pressureText } from '../text/pressure-text.ts'
import { typingOf } from '../typed/typed-session.ts'
import { type TypedTrips, typedTrips } from '../typed/typed-strokes.ts'
import { absentPorts, absentText } from './absent-ports.ts'
import type { FlowMark } from './flow-mark.ts'
import type { Guide } from './guidance.ts'
import { begunUs, planNote, planOf, type Step, skipsOf } from './step.ts'
import type { TypedAsk } from './typed-ask.ts'
import { keyDue } from './typed-key.ts'

type Flow = { plan: FlowPlan | null; asks: boolean }

type Course = {
  run: Run
  setup: Setup
  marks: readonly Mark[]
  plan: FlowPlan
  step: StepName
  steps: Step[]
  edges: readonly Edge[]
  trips: TypedTrips
  /** The change of the contact in the last stroke that waits for its pressure. */
  pending: Edge | null
  /** The switch is made. */
  made: boolean
  /** Strokes that were drawn and typed. */
  done: number
  missing: number
}

/** The guide of a run whose pressures are typed: it goes on by the contact and by what was typed. */
export function typedGuide(run: Run, setup: Setup, assessment: Assessment, flow: Flow): Guide {
  const course = courseOf(run, setup, assessment, flow)
  const ask = askOf(course)
  return {
    ...{ step: course.step, steps: course.steps, ...doingOf(course, ask, flow.asks) },
    cautions: flow.asks ? openCautions(setup.start.purpose, course.marks) : [],
    ...{ rate: null, target: null, error: null, ballast: null, trouble: null, more: 0 },
    heldS: heldS(course),
    flow: flow.plan === null ? null : markDue(course, flow.plan, flow.asks),
    marksSeen: course.marks.length,
    typed: { ask, key: keyDue(run, setup.rig) },
  }
}

function courseOf(run: Run, setup: Setup, assessment: Assessment, flow: Flow): Course {
  const marks = toArray(run.marks)
  const plan = planOf(marks)
  const skips = skipsOf(marks)
  const typed = toArray(run.typed)
  const edges = findEdges(run.contact, setup.rig.pair)
  const trips = typedTrips(edges, typed)
  const stroke = edges.slice(
    Math.max(
      0,
      edges.findLastIndex((e) => e.to),
    ),
  )
  const pending = stroke.find((edge) => !trips.at.has(edge)) ?? null
  const made = edges.at(-1)?.to === true
  const makes = edges.filter((e) => e.to)
  const finished = made || pending ? makes.slice(0, -1) : makes
  const since = (us: number | null) => (us === null ? 0 : finished.filter((e) => e.loUs >= us).length)
  const [preUs, cyclesUs] = [begunUs(marks, 'precondition'), begunUs(marks, 'cycles')]
  const counting = cyclesUs !== null
  const used = assessment?.result.cycles.filter((c) => c.used).length ?? 0
  const settle = assessment && used >= plan.cycles ? (cyclesToSettle(assessment.settlings) ?? 0) : 0
  const wanted = Math.max(plan.cycles, settle)
  const zeros = typed.filter(({ what }) => what === 'zero')
  const held = (assessment?.analysis.typed?.holds.length ?? 0) > 0
  const open = flow.asks ? openCautions(setup.start.purpose, marks) : []
  const lastUs = edges.at(-1)?.hiUs ?? Number.POSITIVE_INFINITY
  const over: Partial<Record<StepName, boolean>> = {
    cautions: open.length === 0,
    zero: zeros.length > 0 || edges.length > 0 || skips.has('zero'),
    'first-stroke': finished.length > 0,
    precondition: counting || skips.has('precondition') || since(preUs) >= strokesOf('precondition', plan),
    hold: held || skips.has('hold') || (counting && plan.preconditioning > 0),
    cycles: used >= wanted || skips.has('cycles'),
    'closing-zero': skips.has('closing-zero') || zeros.some(({ tUs }) => tUs > lastUs),
  }
  // Nothing measures a pace, so no faster stroke is asked for.
  const rows = testSteps.filter(({ name }) => name === 'verdict' || name in over)
  const step = (run.end === null && rows.find(({ name }) => over[name] === false)?.name) || 'verdict'
  const place = rows.findIndex(({ name }) => name === step)
  const counts: Partial<Record<StepName, [done: number, wanted: number]>> = {
    precondition: [since(preUs), strokesOf('precondition', plan)],
    cycles: [used, wanted],
  }
  const steps = rows.map(({ name }, i): Step => {
    const [done, asked] = counts[name] ?? [0, 0]
    const state = i === place ? 'now' : skips.has(name) ? 'skipped' : i < place ? 'done' : 'todo'
    const progress = asked > 0 ? { done: Math.min(done, asked), wanted: asked, of: 'strokes' as const } : null
    return { name, state, progress }
  })
  const [done, missing] = [finished.length, Math.max(0, wanted - used)]
  return { run, setup, marks, plan, step, steps, edges, trips, pending, made, done, missing }
}

/** Seconds since the start of a hold that still waits for its end. */
function heldS({ run, made }: Course): number {
  const newest = run.typed.items[run.typed.length - 1]
  return made && newest?.what === 'hold-start' ? (run.tUs - newest.tUs) / 1e6 : 0
}

function askOf(course: Course): TypedAsk | null {
  const { run, setup, step, pending, made } = course
  const what = whatNow(course)
  const { manometer } = setup.start.rig
  if (what === null || !manometer || run.end !== null || step === 'cautions') return null
  const { digit, accuracy, suctionSign } = manometer
  const typed = toArray(run.typed)
  const same = typed.findLast(
    (reading) => reading.what === what || (what === 'hold-end' && reading.what === 'hold-start'),
  )
  const inUnit = (pa: number) => (pa * suctionSign * digit.value) / setup.rig.digitPa
  const { ratedPa } = setup.rating
  const usualPa = {
    ...{ make: ratedPa, break: criteria.breakShare * ratedPa, zero: 0 },
    ...{ 'hold-start': criteria.holdShare * ratedPa, 'hold-end': criteria.holdShare * ratedPa },
  }[what]
  const makeOf = made || pending ? typed.findLast((reading) => reading.what === 'make') : undefined
  return {
    what,
    offered: same?.text ?? null,
    ...{ unit: digit.unit, digit: digit.value },
    expected: same && what !== 'zero' ? Number(same.text) : inUnit(usualPa),
    fullScale: accuracy?.fullScale.unit === digit.unit ? accuracy.fullScale.value : null,
    made: makeOf ? Number(makeOf.text) : null,
  }
}

function whatNow(course: Course): TypedAsk['what'] | null {
  const { step, pending, made, run, setup } = course
  if (pending !== null) return pending.to ? 'make' : 'break'
  if (setup.rig.typed.contact && run.contact.length === 0) return null
  if (step === 'zero' || (step === 'closing-zero' && !made)) return 'zero'
  if (step !== 'hold' || !made) return null
  const newest = run.typed.items[run.typed.length - 1]
  if (newest?.what !== 'hold-start') return 'hold-start'
  return heldS(course) >= criteria.holdS ? 'hold-end' : null
}

function doingOf(course: Course, ask: TypedAsk | null, asks: boolean): Pick<Guide, 'action' | 'sentence'> {
  const { run, setup, step, made, missing } = course
  const { unit, ratedPa } = setup.rating
  const at = (share: number) => pressureText(share * ratedPa, unit)
  const pacePaPerS = typingOf(setup.rig, [], ratedPa)?.pacePaPerS ?? 0
  const slowly = `slowly, no faster than ${pressureText(pacePaPerS, unit, { figures: 2 }, '/s')}`
  const says = (action: Guide['action'], sentence: string) => ({ action, sentence })
  if (run.end !== null) return says('done', 'The test has ended.')
  const absent = absentPorts(run)
  if (absent.length > 0) return says('lost', absentText(absent, run, `the ${step.replaceAll('-', ' ')}`))
  if (step === 'cautions')
    return says('read', asks ? 'Read the cautions; Enter says you have.' : 'Leave both ports open.')
  if (setup.rig.typed.contact && run.contact.length === 0)
    return says('type', 'Draw nothing yet. Press c to say how the contact is at rest, and again each time it changes.')
  if (run.contact.length === 0) return says('wait', 'Waiting for the meter. Switch it on and check its leads.')
  switch (ask?.what) {
    case 'zero':
      return says('type', 'Open both ports and type what the manometer shows.')
    case 'make':
      return says('type', 'Switch made. Keep the pressure and type what the manometer showed as it made.')
    case 'break':
      return says('type', 'Switch released. Type what the manometer showed as it let go, then vent.')
    case 'hold-start':
      return says('type', `Draw to ${at(criteria.holdShare)}, close it off, and type what the manometer shows.`)
    case 'hold-end':
      return says('type', 'Type what is left now. Do not top it up.')
  }
  if (heldS(course) > 0) return says('hold', `Leave it closed for ${criteria.holdS} s. Do not top it up.`)
  if (made) return says('let-down', `Draw on to ${at(criteria.peakShare)}, then let down ${slowly}, until it lets go.`)
  if (step === 'first-stroke') return says('draw', `Draw the first stroke after rest ${slowly}, until it makes.`)
  if (step === 'precondition') return says('draw', `Draw the next stroke ${slowly}. These do not count.`)
  if (step === 'hold') return says('draw', `Draw the next stroke ${slowly}, until it makes. Then it is held closed.`)
  if (step === 'cycles')
    return says('draw', `Draw the next stroke ${slowly}: ${missing} more ${missing === 1 ? 'has' : 'have'} to count.`)
  return says('done', 'All is typed: the verdict follows.')
}

/** The mark that is due: between the strokes, once all of the last one is typed. */
function markDue(course: Course, plan: FlowPlan, asks: boolean): FlowMark | null {
  const { run, marks, step, pending, made, done } = course
  if (run.end !== null) return null
  const told = planOf(marks)
  const other = told.cycles !== plan.cycles || told.preconditioning !== plan.preconditioning
  if (other && marks.every((m) => m.text !== planNote(plan))) return { mark: 'note', text: planNote(plan) }
  const waits = asks && step === 'cautions'
  if (waits && marks.every(({ text }) => text !== cautionsWaitNote)) return { mark: 'note', text: cautionsWaitNote }
  if (waits || pending !== null || made) return null
  const has = (name: FlowMark['mark']) => marks.some((m) => m.mark === name)
  if (done === 0) return step === 'first-stroke' && !has('first-stroke') ? { mark: 'first-stroke' } : null
  const conditions = step === 'precondition' || (step === 'hold' && plan.preconditioning > 0)
  if (conditions && !has('precondition')) return { mark: 'precondition' }
  if (step === 'hold' && !has('hold')) return { mark: 'hold' }
  return step === 'cycles' && !has('cycles') ? { mark: 'cycles' } : null
}
