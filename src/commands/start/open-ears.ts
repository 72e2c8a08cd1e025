// A rig that is only looked at into what hears its events: where it names drivers of the user's own, in a watched thread.
import type { RecordedEvent } from '../../core/model/event.ts'
import { type Rig, rigPorts } from '../../core/model/rig.ts'
import { undescribed } from '../../described-driver.ts'
import type { DriverFacts } from '../../driver.ts'
import { createEars, type EarsView } from '../../fold/rig-ears.ts'
import { loadDrivers, ownDriverIds, userDriverIds } from '../../load-drivers.ts'
import { bindDrivers } from '../bind-drivers.ts'

export type OpenEars = {
  /** Those that the rig names, at least. */
  drivers: ReadonlyMap<string, DriverFacts>
  /** Each throws a Problem where a driver of the user's own ends, hangs or fills the thread. */
  hear(events: readonly RecordedEvent[]): Promise<unknown>
  again(): Promise<unknown>
  view(): Promise<EarsView>
  stop(): void
}

/** A driver reads some minutes of lines (shop rule). */
const growthLimitMB = 300

/** Ears for the instruments of `rig`, with the user's own drivers of `folder`. */
export async function openEars(rig: Rig, folder: string): Promise<OpenEars> {
  const named = rigPorts(rig).map(({ device }) => device.driver)
  const [ours, theirs] = [ownDriverIds(), userDriverIds(folder)]
  const known = await loadDrivers()
  if (named.every((id) => ours.includes(id) && !theirs.includes(id))) {
    const ears = createEars(rig, bindDrivers(known))
    return {
      drivers: known,
      hear: async (events) => ears.hear(events),
      again: async () => ears.again(),
      view: async () => ears.view(),
      stop: () => {},
    }
  }
  const { startFold } = await import('../../fold/start-fold.ts')
  const thread = startFold(
    theirs.filter((id) => named.includes(id)),
    { code: 'driver-invalid', growthLimitMB },
  )
  try {
    const described = (await thread.ask('describe', { rig, folder })).map(undescribed)
    await thread.ask('ears', { rig, folder })
    return {
      drivers: new Map([...known, ...described.map((driver) => [driver.id, driver] as const)]),
      hear: (events) => thread.ask('hear', { events }),
      again: () => thread.ask('again', null),
      view: () => thread.ask('heard', null),
      stop: thread.stop,
    }
  } catch (error) {
    thread.stop()
    throw error
  }
}
