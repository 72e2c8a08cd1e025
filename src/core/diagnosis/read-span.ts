// An edge of a stroke into the pressures that were read about it, and whether readings are missing there.

import type { LimitPa } from '../model/part.ts'
import { gapUs, hasSilence } from '../signal/silence.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Edge } from '../strokes/edges.ts'
import type { Case } from './rule.ts'

/** Lowest and highest pressure read about the edge, Pa, freed of lag; what U leaves open beside them; `blind`: a stream is silent there. */
export type ReadSpan = { lowPa: number; highPa: number; openPa: number; blind: boolean }

/**
 * From the reading before the edge to the one after it, gaps included: what happened within is not known. `lateS`: how much
 * later than by the lag the contact may have been seen.
 */
export function readSpan(c: Case, transition: 'make' | 'break', edge: Edge, lateS = 0): ReadSpan {
  const { track, lag, streams, measured } = c
  const openPa = measured[transition].estimate.UPa ?? 0
  if (c.typed !== null) return { ...typedSpan(c, transition, edge), openPa }
  const { loUs, hiUs } = edge
  const lagUs = lag.valueS * 1e6
  const from = Math.max(0, indexAt(track, loUs - lagUs - lateS * 1e6) - 1)
  const about = track.slice(from, indexAt(track, hiUs - lagUs) + 1)
  const pressures = upToKick(
    transition,
    about.map(({ pressurePa }) => pressurePa),
  )
  const times = about.map(({ tUs }) => tUs)
  return {
    lowPa: Math.min(...pressures),
    highPa: Math.max(...pressures),
    openPa,
    blind:
      hasSilence([loUs, hiUs], gapUs(streams.contactIntervalS)) || hasSilence(times, gapUs(streams.pressureIntervalS)),
  }
}

/** Behind the farthest of them the kick takes the pressure back: it did not trip there. */
function upToKick(transition: 'make' | 'break', pressures: readonly number[]): readonly number[] {
  const farthestPa = transition === 'make' ? Math.max(...pressures) : Math.min(...pressures)
  return pressures.slice(0, pressures.indexOf(farthestPa) + 1)
}

/** What was typed at the edge; anything where nothing was. */
function typedSpan({ cycles }: Case, transition: 'make' | 'break', edge: Edge): Omit<ReadSpan, 'openPa'> {
  const value = cycles.find((cycle) => cycle[transition] === edge)?.[`${transition}Value`]
  if (!value) return { lowPa: Number.NEGATIVE_INFINITY, highPa: Number.POSITIVE_INFINITY, blind: true }
  return { lowPa: value.loPa, highPa: value.hiPa, blind: false }
}

/** The side of a plain limit beyond which all of a span lies, whatever U leaves open; null where it may lie within. */
export function sideOutside({ lowPa, highPa, openPa }: Omit<ReadSpan, 'blind'>, limit: LimitPa): 'low' | 'high' | null {
  if (limit.lowPa !== null && highPa + openPa < limit.lowPa) return 'low'
  return limit.highPa !== null && lowPa - openPa > limit.highPa ? 'high' : null
}

/** Whether a trip somewhere in the span may lie beyond a plain limit by more than U. */
export const mayLieOutside = ({ lowPa, highPa, openPa }: ReadSpan, { lowPa: low, highPa: high }: LimitPa): boolean =>
  (low !== null && lowPa + openPa < low) || (high !== null && highPa - openPa > high)
