// A simulated bench, recorded in virtual time into a file of its own, onto the player; the file goes when it is left.
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { loadDrivers } from '../../load-drivers.ts'
import type { Scenario } from '../../simulation/scenario.ts'
import { bindDrivers } from '../bind-drivers.ts'
import { type Played, type PlayOptions, playRecording } from '../play-recording.ts'
import { recordVirtually } from '../record-virtually.ts'
import type { Desk } from './desk.ts'

/** Plays a test of `scenario` until it is left. */
export async function playVirtually(
  { host }: Desk,
  scenario: Scenario,
  seed: number,
  options: PlayOptions,
): Promise<Played> {
  const folder = await mkdtemp(join(tmpdir(), 'makebreak-bench-'))
  try {
    const path = join(folder, `bench-${seed}.run`)
    const findDecode = bindDrivers(await loadDrivers())
    recordVirtually(scenario, seed, path, findDecode)
    return await playRecording(host, path, options)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}
