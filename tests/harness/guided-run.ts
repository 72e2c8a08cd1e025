// A simulated bench and the guide in one loop, in virtual time: the program's marks go into the run a moment later, and the hand heeds them or not.

import { type Assessment, assess } from '../../src/core/assess.ts'
import type { Guide } from '../../src/core/guide/guidance.ts'
import { type Flow, guideOf } from '../../src/core/guide/guide.ts'
import { type Run, step } from '../../src/core/intake/run.ts'
import type { MarkName } from '../../src/core/model/marks.ts'
import type { PortName } from '../../src/core/model/rig.ts'
import { usualPlan } from '../../src/core/plan/test-steps.table.ts'
import type { Live } from '../../src/core/view/live.ts'
import { liveOf } from '../../src/core/view/live-view.ts'
import { createFlowWriter } from '../../src/fold/write-flow.ts'

import { createBench, type HandOrders } from '../../src/simulation/bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { newRun, readEvent, sealRun } from './fold-events.ts'

export type Seen = { tS: number; guide: Guide; readonly live: Live }
export type Guided = {
  /** One entry for each tenth of a second. */
  seen: Seen[]
  /** The marks of the recording in order, a note with its text. */
  marks: string[]
  /** All events, so that they can be folded again. */
  events: object[]
  run: Run
}

type Options = {
  flow?: Flow
  orders?: HandOrders
  /** Marks of the operator, at their time in s. */
  operator?: readonly { atS: number; mark: MarkName; text?: string }[]
  seed?: number
  /** Longest that is waited for the verdict, s. */
  limitS?: number
}

export const usualFlow: Flow = { plan: usualPlan, asks: false }

/** A mark is on its way through two processes for so long, µs. */
const delayUs = 200_000

/** Runs `scenario` until the guide is at its verdict or the time is over; then the recording ends `finished` and is sealed. */
export function runGuided(scenario: Scenario, options: Options = {}): Guided {
  const { flow = usualFlow, orders = { hurry: 1 }, operator = [], seed = 1, limitS = 900 } = options
  const bench = createBench(scenario, seed, orders)
  const { rig, part, purpose, conditions } = scenario
  const start = {
    type: 'start',
    format: 1,
    id: 'x',
    at: '2026-02-03T08:00:00.000Z',
    purpose,
    simulated: true,
    part,
    rig,
    conditions,
  }
  const events: object[] = []
  const seen: Seen[] = []
  let run = newRun()
  let assessment: Assessment = null
  const take = (event: object) => {
    events.push(event)
    run = step(run, readEvent(event))
  }
  const due: { tUs: number; event: { mark: MarkName; by: string; text?: string } }[] = operator.map(
    ({ atS, ...mark }) => ({ tUs: atS * 1e6, event: { ...mark, by: 'operator' } }),
  )
  let tUs = 0
  const writeFlow = createFlowWriter((order) => due.push({ tUs: tUs + delayUs, event: order }))
  const { query } = scenario.truth.meter
  const asked: PortName = 'meter'
  take(start)
  for (; tUs < limitS * 1e6; tUs += 20_000) {
    for (const emission of bench.advanceTo(tUs)) {
      const t = Math.max(run.tUs, emission.timeUs)
      if (emission.type === 'bytes') take({ type: 'rx', t, port: emission.port, text: emission.bytes })
      if (emission.type === 'link') take({ type: 'link', t, port: emission.port, state: emission.state })
    }
    if (query && tUs % (query.periodMs * 1000) === 0) bench.write(asked, query.bytes, tUs)
    if (tUs % 240_000 === 0) take({ type: 'tick', t: Math.max(run.tUs, tUs) })
    for (const { event } of due.filter((d) => d.tUs <= tUs)) {
      take({ type: 'mark', t: Math.max(run.tUs, tUs), ...event })
      bench.tell(event.mark)
    }
    due.splice(0, due.length, ...due.filter((d) => d.tUs > tUs))
    if (tUs % 100_000 !== 0 || run.setup === null) continue
    assessment = assess(run, assessment)
    const guide = guideOf(run, run.setup, assessment, flow)
    if (guide === null) throw new Error('this purpose is not guided')
    seen.push(createSeen(tUs / 1e6, guide, run, assessment, flow))
    writeFlow(run, { guide })
    if (guide.step === 'verdict') break
  }
  take({ type: 'end', t: Math.max(run.tUs, tUs), reason: 'finished' })
  run = sealRun(run)
  const marks = run.marks.items.map(({ mark, text }) =>
    mark === 'note' || mark === 'caution' ? `${mark}: ${text}` : mark,
  )
  return { seen, marks, events, run }
}

/** What a screen shows is worked out where a test asks for it: a state of the run stays as it is. */
function createSeen(tS: number, guide: Guide, run: Run, assessment: Assessment, flow: Flow): Seen {
  return {
    tS,
    guide,
    get live() {
      return liveOf(run, assessment, flow)
    },
  }
}

/** Each action with its sentence, once for each stay of half a second or more. */
export function toldBy({ seen }: Guided): string[] {
  const told: string[] = []
  let [text, since] = ['', 0]
  for (const { guide } of seen) {
    const now = `${guide.action}: ${guide.sentence}`
    since = now === text ? since + 1 : 1
    text = now
    if (since === 5 && told.at(-1) !== now) told.push(now)
  }
  return told
}
