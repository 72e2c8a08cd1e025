// The state of a run into what the program itself decides: a silent or garbled port at the start, and the end once all steps are done.

import { criteria } from '../core/criteria.table.ts'
import type { Run } from '../core/intake/run.ts'
import type { EndReason } from '../core/model/event.ts'
import { ratingOf } from '../core/model/part.ts'
import type { FaultCode } from '../core/model/reading.ts'
import type { PortName } from '../core/model/rig.ts'
import type { Live } from '../core/view/live.ts'
import { roundMs } from '../driver.ts'
import { Problem, type ProblemCode } from '../errors.ts'
import type { AcquisitionPlan } from '../source/acquire.ts'

/** An instrument that has said nothing of use this long after the start, or after two questions, is not going to. */
const patienceS = 10

/** A closing zero and the rest between two strokes, which is not to be taken for the end. */
const closingRestS = criteria.zeroS + criteria.betweenStrokesS

/** `unattended`: nobody watches who could mend a port, and a bench that rests when enough cycles count has come to its end. Called with each new state; gives the reason to end with, a Problem where there is nothing to test with, or null. */
export function createOverseer(
  plan: AcquisitionPlan,
  unattended: boolean,
): (run: Run, live: Live) => EndReason | Problem | null {
  // Where the last rest is taken for the closing zero.
  const restPa = criteria.closingZeroShare * ratingOf(plan.start.part).ratedPa
  let restingSinceS: number | null = null
  const heard = new Set<PortName>()
  return (run, live) => {
    if (run.end !== null) return null
    for (const port of run.ports) if (port.recentUs.length > 0) heard.add(port.name)
    const problem = unattended ? portProblem(run, plan, heard) : null
    if (problem !== null) return problem
    if (live.guide?.step === 'verdict') return 'finished'
    const atRest = live.pressurePa !== null && Math.abs(live.pressurePa) < restPa
    restingSinceS = atRest ? (restingSinceS ?? live.elapsedS) : null
    if (!unattended || live.used < criteria.fewestCycles || restingSinceS === null) return null
    return live.elapsedS - restingSinceS > closingRestS ? 'finished' : null
  }
}

/** Faults that have a next step of their own. */
const refusals: Partial<Record<FaultCode, ProblemCode>> = { held: 'display-held', 'low-battery': 'battery-low' }

/** Why a port whose time is up never gave a reading, exchanged ones before all others; null where all gave one. */
function portProblem(run: Run, plan: AcquisitionPlan, heard: ReadonlySet<PortName>): Problem | null {
  const problems = plan.ports.flatMap((port) => (heard.has(port.name) ? [] : (silentPort(run, port) ?? [])))
  // One that sends what the other should explains why that one is silent, or reads nonsense.
  return problems.find(({ code }) => code === 'ports-swapped') ?? problems[0] ?? null
}

function silentPort(run: Run, { name, path, settings, wire }: AcquisitionPlan['ports'][number]): Problem | null {
  const port = run.ports.find((each) => each.name === name)
  if (!port) return null
  const waitedS = run.tUs / 1e6
  const exchanged = port.lastFault?.code === 'wrong-quantity'
  // What sends by itself has sent enough to tell, however seldom its own instrument would be asked.
  if (waitedS < patienceS + (exchanged ? 0 : (2 * (roundMs(wire) ?? 0)) / 1000)) return null
  const said = port.lastFault && `"${port.lastFault.text}"`
  const where = `The ${name} on ${path} at ${settings.baudRate} baud`
  if (exchanged) return new Problem('ports-swapped', `${where} sends what the other instrument should: ${said}.`)
  if (said === null)
    return new Problem('port-silent', `${where} has sent nothing that can be read for ${Math.round(waitedS)} s.`)
  return new Problem(
    refusals[port.lastFault?.code ?? 'unreadable'] ?? 'port-garbled',
    `${where} has sent no reading for ${Math.round(waitedS)} s, the last fault being ${said}.`,
  )
}
