// Strokes with a manometer at the tee and one at the switch end into what the two prove of the line between them.
import { criteria } from '../criteria.table.ts'
import type { Track } from '../model/samples.ts'
import { delayBetween } from '../signal/delay-between.ts'
import type { SwitchEnd } from '../signal/switch-end.ts'
import type { TripValue } from '../trips/trip-moment.ts'
import { type DropTrip, differTooMuch, type LineDrop, lineDrop, type Shown } from './line-drop.ts'
import { type Unstated, unstatedAt } from './unstated-at.ts'

export type LineProof = {
  drop: LineDrop
  /** Whether no more is open than its bounds: of a leak, and of the hose. */
  leak: boolean
  hose: boolean
  /** Why nothing states how right the second manometer is at the trips; null where something does. */
  unstated: Unstated | null
}

type Edge = { loUs: number; hiUs: number }
type Stroke = {
  span: { endUs: number }
  make: Edge | null
  break: Edge | null
  makeValue: TripValue | null
  breakValue: TripValue | null
  used: boolean
}

/**
 * null where the rig has no second manometer, or it saw too little. It is a proof where a pinched hose has shown where it sits, both
 * saw each trip that counts, its certificate is in date and reaches there, and the two agree; of the hose only where kicks date the trips (`dated`): else the meter may be late, of which no
 * manometer tells. What it shows against the line counts always.
 */
export function proveLine(
  tee: Shown & { dampingS: number },
  end: SwitchEnd | null,
  strokes: readonly Stroke[],
  dated: boolean,
): LineProof | null {
  if (end === null) return null
  const delay = delayBetween(tee.track, end.track, fallsOf(end.track, strokes))
  const used = strokes.filter((s) => s.used)
  const drop = lineDrop(tee, end, delay, used.flatMap(tripsOf))
  if (drop === null) return null
  const shownPa = used.flatMap(({ makeValue, breakValue }) =>
    [makeValue ?? [], breakValue ?? []].flat().map(({ valuePa }) => valuePa + (end.zero.before?.meanPa ?? 0)),
  )
  const unstated = unstatedAt(end.manometer, shownPa)
  const isStated = unstated === null && end.ended?.why !== 'overdue'
  const leak = end.placed && drop.complete && isStated && !differTooMuch(drop)
  return { drop, leak, hose: leak && dated, unstated }
}

/** The vents behind the breaks, as far as the second manometer was there: the kick of a break is no part of them. */
function fallsOf(end: Track, strokes: readonly Stroke[]): { fromUs: number; toUs: number }[] {
  const lastUs = end.at(-1)?.tUs ?? 0
  return strokes.flatMap(({ span, break: back }) => {
    const toUs = span.endUs + criteria.delayAfterUs
    const fromUs = Math.max(span.endUs - criteria.delayBeforeUs, (back?.hiUs ?? 0) + criteria.delayLevelUs)
    return fromUs < span.endUs && toUs < lastUs ? [{ fromUs, toUs }] : []
  })
}

function tripsOf(stroke: Stroke): DropTrip[] {
  const trip = (transition: 'make' | 'break', edge: Edge | null, value: TripValue | null): DropTrip[] => {
    if (!edge || !value) return []
    const { seen, ratePaPerS, takenPa } = value
    return [{ transition, atUs: Math.min(edge.loUs, seen.tS * 1e6), ratePaPerS, takenPa }]
  }
  return [...trip('make', stroke.make, stroke.makeValue), ...trip('break', stroke.break, stroke.breakValue)]
}
