// Each stroke into how long the contact was still made once the pressure had gone below the level at which it must let go.
import { criteria } from '../criteria.table.ts'
import { isActuated } from '../model/pair.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Case } from './rule.ts'

export type Release = {
  stroke: number
  /** When the pressure went below the level for good, µs. */
  ventedUs: number
  /** From then to the last reading that was still made, s; 0 where it let go above the level. */
  delayS: number
  /** The next stroke began before it let go. */
  never: boolean
}

/** Pressure below which a made switch must have let go, whatever U leaves open: by its low break limit, without one as good as vented. Pa. */
export function mustReleasePa({ setup, measured }: Case): number {
  const { limits, ratedPa } = setup.rating
  const ventedPa = criteria.ventedShare * ratedPa
  const lowPa = limits.break?.lowPa ?? null
  if (lowPa === null) return ventedPa
  return Math.max(
    ventedPa,
    lowPa - (measured.break.estimate.UPa ?? criteria.coverageFactor * measured.break.instrumentU),
  )
}

/** The release of each stroke that made; the contact's last reading before the next stroke bounds what was seen. */
export function releases(c: Case): Release[] {
  const levelPa = mustReleasePa(c)
  const { track, contact, cycles, setup } = c
  return cycles.flatMap((cycle, i): Release[] => {
    if (cycle.make === null) return []
    const nextUs = (cycles[i + 1]?.span ?? c.openStroke)?.startUs ?? Number.POSITIVE_INFINITY
    const made = contact
      .slice(indexAt(contact, cycle.make.hiUs), indexAt(contact, nextUs))
      .filter(({ state }) => isActuated(state, setup.rig.pair) === true)
      .at(-1)
    if (!made) return []
    // Back from there: how long the pressure had been below the level without a break.
    let from = indexAt(track, made.tUs + 1)
    while (from > 0 && track.of.pressurePa[from - 1]! < levelPa) from--
    const ventedUs = track.of.tUs[from] ?? made.tUs
    const delayS = Math.max(0, (made.tUs - ventedUs) / 1e6)
    return [{ stroke: cycle.stroke, ventedUs, delayS, never: cycle.break === null }]
  })
}
