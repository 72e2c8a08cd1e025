// `plan-bench`: the bench that suits a part, with what its own rig adds to it.

import { criteria } from '../core/criteria.table.ts'
import { ratingOf } from '../core/model/part.ts'
import { planBench } from '../core/plan/bench-plan.ts'
import { loadDrivers } from '../load-drivers.ts'
import { benchPlanLines, type KnownRig } from '../terminal/text/bench-plan-lines.ts'
import { userFolders } from '../user-folders.ts'
import { planTest } from './plan-test.ts'
import { print } from './print.ts'
import { readPart, readRig } from './read-setup.ts'

export type PlanBenchOptions = { part: string; rig?: string; json?: true }

/** Prints the plan; exit status 0. Without a rig the contact is taken to be read twice a second. */
export async function tellBenchPlan({ part: partName, rig: rigName, json }: PlanBenchOptions): Promise<number> {
  const folders = userFolders()
  const part = await readPart(partName, folders.parts)
  let known: KnownRig = { contactIntervalS: criteria.intervalS, assumed: true, lagUs: null }
  if (rigName !== undefined) {
    const drivers = await loadDrivers(folders.drivers)
    const rig = await readRig(rigName, folders.rigs, drivers)
    const { plan, assumed } = planTest(part, rig, drivers)
    known = { contactIntervalS: plan.contactIntervalS, assumed: assumed.contact, lagUs: rig.lag?.uS ?? null }
  }
  const plan = planBench(ratingOf(part), known.contactIntervalS)
  if (json) print(JSON.stringify({ ...plan, ...known }))
  else for (const line of benchPlanLines(plan, part, known)) print(line)
  return 0
}
