// A part and a rig into what a test of them can decide, with what is assumed where the files do not say it.

import { criteria } from '../core/criteria.table.ts'
import { type Part, ratingOf } from '../core/model/part.ts'
import { type Rig, rigPorts, rigSpecOf } from '../core/model/rig.ts'
import { type Capability, capabilityOf } from '../core/plan/capability.ts'
import type { TestPlan } from '../core/plan/expected-test.ts'
import { usualPlan } from '../core/plan/test-steps.table.ts'
import { type DriverFacts, resolveOptions, roundMs, wireOf } from '../driver.ts'
import type { Assumed } from '../terminal/text/capability-lines.ts'

export type Planned = { plan: TestPlan; assumed: Assumed; told: Capability }
export type PlanOptions = { cycles?: number; scatter?: number }

/** `scatter` in percent of the rated point; left out: what is usual. `cycles` left out: those of the usual test. */
export function planTest(
  part: Part,
  rig: Rig,
  drivers: ReadonlyMap<string, DriverFacts>,
  { cycles = usualPlan.cycles, scatter }: PlanOptions = {},
): Planned {
  const rating = ratingOf(part)
  const driverOf = (names: readonly string[]) => {
    const device = rigPorts(rig).find((port) => names.includes(port.name))?.device
    return { device, driver: device && drivers.get(device.driver) }
  }
  const periodS = (names: readonly string[]) => {
    const { device, driver } = driverOf(names)
    const everyMs = driver ? roundMs(wireOf(driver, resolveOptions(driver, device?.options))) : null
    return everyMs === null ? null : everyMs / 1000
  }
  const pressureS = periodS(['manometer', 'bridge'])
  const contactS = periodS(['meter', 'bridge'])
  const plan: TestPlan = {
    cycles,
    scatterPa: (scatter === undefined ? criteria.scatterShare : scatter / 100) * rating.ratedPa,
    pressureIntervalS: pressureS ?? criteria.intervalS,
    contactIntervalS: contactS ?? criteria.intervalS,
    tellsOhms: driverOf(['meter', 'bridge']).driver?.channels.some(({ quantity }) => quantity === 'resistance') ?? true,
  }
  const today = new Date().toISOString().slice(0, 10)
  return {
    plan,
    assumed: { scatter: scatter === undefined, pressure: pressureS === null, contact: contactS === null },
    told: capabilityOf(rating, rigSpecOf(rig), plan, today),
  }
}
