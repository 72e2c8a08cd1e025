// The drivers into what asks a silent port and what reads its bytes: where the user has drivers of their own, these run in a watched thread.

import { undescribed } from '../described-driver.ts'
import type { DriverFacts } from '../driver.ts'
import { startFold } from '../fold/start-fold.ts'
import { loadDrivers, userDriverIds } from '../load-drivers.ts'
import { describeReadings } from './describe-reading.ts'
import type { Asked } from './listen-port.ts'

export type Readers = {
  drivers: readonly DriverFacts[]
  /** What each makes of `text`, a line each. Throws a Problem where a driver of the user's own ends, hangs or fills the thread. */
  read(text: string, asked: Asked | null): Promise<string[]>
  stop(): void
}

/** A driver reads some seconds of lines (shop rule). */
const growthLimitMB = 300

/** The project's drivers and those of `folder`. */
export async function loadReaders(folder: string): Promise<Readers> {
  const ours = await loadDrivers()
  const own = userDriverIds(folder)
  if (own.length === 0)
    return {
      drivers: [...ours.values()],
      read: async (text, asked) => describeReadings(ours.values(), text, asked),
      stop: () => {},
    }
  // Ports may not be opened in a thread: what is heard here is read there.
  const thread = startFold(own, { code: 'driver-invalid', growthLimitMB })
  try {
    const described = await thread.ask('describe', { rig: null, folder })
    return {
      drivers: [...ours.values(), ...described.map(undescribed)],
      read: (text, asked) => thread.ask('reads', { text, asked, folder }),
      stop: thread.stop,
    }
  } catch (error) {
    thread.stop()
    throw error
  }
}
