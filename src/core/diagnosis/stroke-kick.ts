// A stroke without an edge into the kick of the mechanism in it.
import type { Analysis } from '../analyse.ts'
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import { kickSeen, tripSurface } from '../trips/kick.ts'
import { dampedResponse } from '../trips/response.ts'

/** Whether a stroke, the one in progress included, shows the mechanism's kick while the contact has never changed. */
export function movedWithoutContact(c: Analysis): boolean {
  const spans = [...c.strokes, ...(c.openStroke ? [c.openStroke] : [])]
  if (spans.length === 0 || c.contact.length === 0 || c.edges.length > 0) return false
  return spans.some((span) => strokeKick(c, span) !== null)
}

// A change of the hand's pace looks like a kick seen through a slow manometer: without an edge to go by, only a sharp step counts.
const sharp = [0, 0.1, 0.2, 0.3].map(dampedResponse)

/** The kick on the way up of a stroke and the pressure at it, Pa; null where none stands out. Without an edge every moment is possible. */
export function strokeKick(c: Analysis, { startUs, peakUs, peakPa }: Stroke): { sizePa: number; atPa: number } | null {
  const samples = c.streams.fresh
    // The turn at the peak is a change of pace and no kick.
    .filter((s) => s.tUs >= startUs && s.tUs <= peakUs && s.pressurePa < criteria.blindKickPeakShare * peakPa)
    .map((s) => ({ tS: s.tUs / 1e6, pressurePa: s.pressurePa, extraVar: s.extraVar }))
  if (samples.length < criteria.blindKickReadings) return null
  const largestPa = criteria.kickShare * c.setup.rating.ratedPa
  const surface = tripSurface(samples, startUs / 1e6 + 1, peakUs / 1e6, 1, c.ramp, largestPa, sharp)
  if (!kickSeen(surface, c.ramp)) return null
  const likely = surface.cells.reduce((a, b) => (Math.max(...b.logLiks) > Math.max(...a.logLiks) ? b : a))
  const dampingS = sharp[likely.logLiks.indexOf(Math.max(...likely.logLiks))]?.delayS ?? 0
  const { sizePa } = surface.kick
  // A hand that slows down, always at the same pressure of its plan, bends the ramp; only a kick makes the reading fall.
  if (sizePa < likely.before.vPaPerS * dampingS) return null
  return { sizePa, atPa: likely.before.pPa }
}
