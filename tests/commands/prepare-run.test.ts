// What a run needs, prepared for each simulated bench.
import { describe, expect, test } from 'vitest'
import { prepareRun } from '../../src/commands/prepare-run.ts'
import { rigPorts } from '../../src/core/model/rig.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { scenarioNames } from '../../src/simulation/find-scenario.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

describe('a run on a simulated bench', () => {
  test.each(scenarioNames)('%s has all of its instruments on that bench', async (scenario) => {
    const prepared = await prepareRun(
      { purpose: 'certify', dataDir: temporaryFolder(), bench: { scenario, seed: 1 } },
      async () => loadDrivers(),
    )
    expect(prepared.bench?.scenario.name).toBe(scenario)
    const names = rigPorts(prepared.plan.start.rig).map(({ name }) => name)
    expect(prepared.plan.ports.map(({ name }) => name)).toEqual(names)
    for (const { path } of prepared.plan.ports) expect(path).toContain(`simulated:${scenario}?`)
  })
})
