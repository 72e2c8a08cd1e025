// A rig into the mistake that two of its instruments are on one port.
import { type Rig, rigPorts } from '../core/model/rig.ts'
import { isSimulatedPath } from '../simulation/wire.ts'

/** The second of two instruments on the same port; null where each has its own. Windows does not tell com3 from COM3. */
export function portMistake(rig: Rig): { field: string; text: string } | null {
  const taken = new Map<string, string>()
  for (const { name, device } of rigPorts(rig)) {
    const path = device.port?.path
    if (!path || isSimulatedPath(path)) continue
    const key = /^com\d+$/i.test(path) ? path.toUpperCase() : path
    const other = taken.get(key)
    if (other !== undefined)
      return {
        field: `${name}.port.path`,
        text: `${other} and ${name} are both on the port ${path}; each needs its own`,
      }
    taken.set(key, name)
  }
  return null
}
