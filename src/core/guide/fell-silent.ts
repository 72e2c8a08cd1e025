// A run into the instruments that fell silent by themselves after some minutes, as those do that switch off to save power.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { timesOf } from '../model/columns.ts'
import type { PortName } from '../model/rig.ts'
import { toArray } from '../model/series.ts'

/** `afterS`: from its first reading to the last one before the silence. */
export type FellSilent = { name: PortName; afterS: number }

/** Those of `run`, each with its first such silence, one that goes on among them. */
export function fellSilent(run: Run): FellSilent[] {
  return run.ports.flatMap(({ name }) => {
    const timesUs = timesOf(name === 'meter' ? run.contact : run.pressure)
    const lastUs = timesUs.at(-1)
    if (lastUs === undefined) return []
    const endUs = run.end?.tUs ?? run.tUs
    const at = timesUs.findIndex((fromUs, i) => isOff(run, name, fromUs - timesUs[0]!, fromUs, timesUs[i + 1] ?? endUs))
    return at < 0 ? [] : [{ name, afterS: (timesUs[at]! - timesUs[0]!) / 1e6 }]
  })
}

/** Not where its cable was pulled, which shows at once, nor while the machine slept. */
function isOff(run: Run, name: PortName, onUs: number, fromUs: number, toUs: number): boolean {
  if (toUs - fromUs < criteria.offSilentS * 1e6) return false
  if (onUs < criteria.offFromS * 1e6 || onUs > criteria.offToS * 1e6) return false
  const pulled = toArray(run.linkBreaks).some(
    ({ port, tUs }) => port === name && tUs >= fromUs && tUs - fromUs < criteria.offPulledUs,
  )
  return !pulled && !toArray(run.sleeps).some((sleep) => sleep.toUs > fromUs && sleep.fromUs < toUs)
}
