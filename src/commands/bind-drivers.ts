// Drivers by id into what the core needs of them: for each port of a rig, bytes into readings.

import type { Decode } from '../core/model/reading.ts'
import { type PortName, type RigPort, roleOf } from '../core/model/rig.ts'
import { bindDecode, type Driver, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'

export type FindDecode = (port: PortName, device: RigPort) => Decode

/** The decoder of a device as a recording or a checked rig states it. Throws a Problem where its driver is not here. */
export function bindDrivers(drivers: ReadonlyMap<string, Driver>): FindDecode {
  return (port, device) => {
    const driver = drivers.get(device.driver)
    if (!driver) {
      const known = [...drivers.keys()].sort().join(', ')
      throw new Problem(
        'driver-unknown',
        `The ${port} needs the driver "${device.driver}"; the drivers here are ${known}.`,
      )
    }
    return bindDecode(driver, resolveOptions(driver, device.options, 'recording'), roleOf(port))
  }
}
