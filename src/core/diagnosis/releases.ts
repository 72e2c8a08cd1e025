// Each stroke into how long the contact was still made once the pressure had gone below the level at which it must let go.
import { criteria } from '../criteria.table.ts'
import { isActuated } from '../model/pair.ts'
import { stateOf, type Track } from '../model/samples.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { gapUs } from '../signal/silence.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Case } from './rule.ts'

export type Release = {
  stroke: number
  /** When the pressure went below the level for good, µs. */
  ventedUs: number
  /** From then to the last reading that was still made while the manometer was heard, s; 0 where it let go above the level. */
  delayS: number
  /** The pressure rose again before it let go. */
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

/**
 * The late releases of each stroke that made: one for each time that the pressure was read below the level, also where the hand
 * drew on before the bench was vented. A silence of the manometer ends such a time: what it hides is not known.
 */
export function releases(c: Case): Release[] {
  const { track, contact, cycles, setup } = c
  const { of } = contact
  const levelPa = mustReleasePa(c)
  const longestUs = Math.max(gapUs(c.streams.pressureIntervalS), criteria.stuckWatchedUs)
  return cycles.flatMap((cycle, i): Release[] => {
    if (cycle.make === null) return []
    const nextUs = (cycles[i + 1]?.span ?? c.openStroke)?.startUs ?? Number.POSITIVE_INFINITY
    const { hiUs: madeUs } = cycle.make
    const span = track.part(indexAt(track, madeUs), indexAt(track, nextUs))
    return ventsIn(span, levelPa, setup.rating.ratedPa, longestUs).flatMap(({ fromUs, toUs }): Release[] => {
      const [first, end] = [indexAt(contact, fromUs), indexAt(contact, toUs + 1)]
      const isAt = (i: number) => isActuated(stateOf(of.state[i]), setup.rig.pair)
      // One made reading alone may be a wild one.
      const isMade = (i: number) => isAt(i) === true && isAt(i - 1) === true && pressureAt(track, of.tUs[i]!) < levelPa
      let last = end - 1
      while (last >= first && !isMade(last)) last--
      if (last < first) return []
      const delayS = Math.max(0, (of.tUs[last]! - fromUs) / 1e6)
      let never = true
      for (let i = last; i < end; i++) never &&= isAt(i) !== false
      return [{ stroke: cycle.stroke, ventedUs: fromUs, delayS, never }]
    })
  })
}

type Vent = { fromUs: number; toUs: number }

/** From each fall below a level to the next rise above `drawnPa`, as far as neighbouring readings lie no more than `longestUs` apart. */
function ventsIn({ of, length }: Track, levelPa: number, drawnPa: number, longestUs: number): Vent[] {
  const vents: Vent[] = []
  let open: Vent | null = null
  for (let i = 0; i < length; i++) {
    const tUs = of.tUs[i]!
    const pressurePa = of.pressurePa[i]!
    if (open && (pressurePa >= drawnPa || tUs - open.toUs > longestUs)) open = null
    if (open) open.toUs = tUs
    else if (pressurePa < levelPa) {
      open = { fromUs: tUs, toUs: tUs }
      vents.push(open)
    }
  }
  return vents
}
