// A stroke without an edge into the kick of the mechanism in it.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import { isSame } from '../statistics/is-same.ts'
import { kickSeen, tripSurface } from './kick.ts'
import type { RampModel } from './ramp.ts'
import { briefResponse } from './response.ts'
import { type Streams, samplesBetween } from './trips.ts'

/** The kick of a stroke whose contact never changed, its size and the pressure at it, Pa; `kick` null where none stands out. */
export type BlindKick = {
  startUs: number
  /** What it was looked for in: where that is the same again, so is the kick. */
  asked: Asked
  kick: { sizePa: number; atPa: number } | null
}

type Asked = Parameters<typeof tripSurface>

// A change of the hand's pace looks like a kick seen through a slow manometer: without an edge to go by, only a sharp step counts.
const sharp = [0, 0.1, 0.2, 0.3].map(briefResponse)

/** The kick on the way up of a stroke: every moment is possible. `before`: what was found when less was known of the session. */
export function blindKick(
  { startUs, peakUs, peakPa }: Stroke,
  streams: Streams,
  ramp: RampModel,
  before?: BlindKick,
): BlindKick {
  // The turn at the peak is a change of pace and no kick.
  const samples = samplesBetween(streams, startUs, peakUs).filter(
    (s) => s.pressurePa < criteria.blindKickPeakShare * peakPa,
  )
  const kickPa = criteria.kickShare * streams.ratedPa
  const asked: Asked = [samples, startUs / 1e6 + 1, peakUs / 1e6, 1, ramp, kickPa, sharp]
  if (before && isSame(before.asked, asked)) return before
  return { startUs, asked, kick: samples.length < criteria.blindKickReadings ? null : kickIn(asked) }
}

function kickIn(asked: Asked): BlindKick['kick'] {
  const surface = tripSurface(...asked)
  if (!kickSeen(surface, asked[4])) return null
  const likely = surface.cells.reduce((a, b) => (Math.max(...b.logLiks) > Math.max(...a.logLiks) ? b : a))
  const dampingS = sharp[likely.logLiks.indexOf(Math.max(...likely.logLiks))]?.delayS ?? 0
  const { sizePa } = surface.kick
  // A hand that slows down, always at the same pressure of its plan, bends the ramp; only a kick makes the reading fall.
  if (sizePa < likely.before.vPaPerS * dampingS) return null
  return { sizePa, atPa: likely.before.pPa }
}
