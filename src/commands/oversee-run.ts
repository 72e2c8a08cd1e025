// The state of a run into what the program itself decides: a silent or garbled port at the start, and the end where nobody presses a key.
import type { EndReason } from '../core/event.ts'
import type { Live } from '../core/live.ts'
import { ratingOf } from '../core/part.ts'
import type { Run } from '../core/run.ts'
import { Problem } from '../errors.ts'
import type { AcquisitionPlan } from '../source/follow.ts'

/** An instrument that has said nothing of use this long after the start is not going to: two of the longest query intervals. */
const patienceS = 20
/** The closing zero takes ten seconds of rest; then two more. */
const closingRestS = 12
/** Of the rated point: below this the bench is at rest. */
const restShare = 0.1

export type Duties = { endsByItself: boolean; refusesSilence: boolean }

/** Called with each new state; gives the reason to end with, a Problem where there is nothing to test with, or null. */
export function createOverseer(
  plan: AcquisitionPlan,
  duties: Duties,
): (run: Run, live: Live) => EndReason | Problem | null {
  const restPa = restShare * ratingOf(plan.start.part).ratedPa
  let restingSinceS: number | null = null
  return (run, live) => {
    if (live.phase === 'ended') return null
    if (duties.refusesSilence && live.elapsedS > patienceS) {
      const problem = portProblem(run, plan)
      if (problem !== null) return problem
    }
    const atRest = live.pressurePa !== null && Math.abs(live.pressurePa) < restPa
    restingSinceS = atRest ? (restingSinceS ?? live.elapsedS) : null
    if (!duties.endsByItself || live.used < live.wanted || restingSinceS === null) return null
    return live.elapsedS - restingSinceS > closingRestS ? 'finished' : null
  }
}

/** Why a port that has never given a reading has not; null where each has given one. */
function portProblem(run: Run, plan: AcquisitionPlan): Problem | null {
  const mute = run.ports.filter((port) => port.recentUs.length === 0)
  const swapped = mute.filter((port) => port.lastFault?.code === 'wrong-quantity')
  const where = (name: string) => {
    const port = plan.ports.find((each) => each.name === name)
    return `${name} on ${port?.path ?? 'its port'} at ${port?.settings.baudRate ?? 0} baud`
  }
  if (swapped[0] !== undefined)
    return new Problem(
      'ports-swapped',
      `The ${where(swapped[0].name)} sends what the other instrument should: ${swapped[0].lastFault?.text}.`,
    )
  const [first] = mute
  if (first === undefined) return null
  if (first.faults === 0)
    return new Problem('port-silent', `The ${where(first.name)} has sent nothing for ${patienceS} s.`)
  return new Problem(
    'port-garbled',
    `The ${where(first.name)} has sent no reading for ${patienceS} s (last: ${first.lastFault?.text}).`,
  )
}
