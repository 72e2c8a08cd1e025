// `capability`: what this rig can decide of this part, told before a test.
import { loadDrivers } from '../load-drivers.ts'
import { capabilityLines } from '../terminal/text/capability-lines.ts'
import { userFolders } from '../user-folders.ts'
import { testDoubts } from './doubt-setup.ts'
import { type PlanOptions, planTest } from './plan-test.ts'
import { print } from './print.ts'
import { readPart, readRig } from './read-setup.ts'

export type CapabilityOptions = PlanOptions & { part: string; rig: string; json?: true }

const cannot = 2

/** Prints it; exit status 0 where a result could pass, 2 where none could. */
export async function tellCapability({
  part: partName,
  rig: rigName,
  json,
  ...options
}: CapabilityOptions): Promise<number> {
  const folders = userFolders()
  const drivers = await loadDrivers(folders.drivers)
  const part = await readPart(partName, folders.parts)
  const rig = await readRig(rigName, folders.rigs, drivers)
  const { plan, assumed, told } = planTest(part, rig, drivers, options)
  if (json) print(JSON.stringify({ ...told, plan, assumed }))
  else {
    print(`${part.model ?? part.kind} on ${rig.name ?? 'this rig'}`)
    for (const line of testDoubts(part, rig)) print(line)
    for (const line of capabilityLines(told, part, plan, assumed)) print(line)
  }
  return told.decides === 'no' ? cannot : 0
}
