// Raw pressures into strokes and the rests between them, by one simple rule each and without a zero that was worked out.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import { indexAt } from '../statistics/index-at.ts'
import { median } from '../statistics/mean.ts'

/** A reading with the zero still in it, Pa. */
export type RawReading = { tUs: number; rawPa: number }
export type RawPressures = Columns<'tUs' | 'rawPa'>

/** A stroke; `nextUs` is where the one after it starts. */
export type RawStroke = { startUs: number; peakUs: number; endUs: number; nextUs: number; peakPa: number }

/** From a rest share above the first reading on to back below it; a wobble is no stroke. A recording begins vented. */
export function rawStrokes(readings: RawPressures, ratedPa: number): RawStroke[] {
  const strokes: RawStroke[] = []
  const basePa = median(readings.slice(0, criteria.zeroReadings).map(({ rawPa }) => rawPa)) ?? 0
  let now: RawStroke | null = null
  const { of, length } = readings
  for (let i = 0; i < length; i++) {
    const tUs = of.tUs[i]!
    const rawPa = of.rawPa[i]!
    if (rawPa - basePa >= criteria.restShare * ratedPa) {
      now ??= { startUs: tUs, peakUs: tUs, endUs: tUs, nextUs: Number.POSITIVE_INFINITY, peakPa: rawPa }
      if (rawPa > now.peakPa) Object.assign(now, { peakUs: tUs, peakPa: rawPa })
      now.endUs = tUs
    } else if (now) {
      if (now.peakPa - basePa >= criteria.strokeShare * ratedPa) strokes.push({ ...now, endUs: tUs })
      now = null
    }
  }
  const openUs = now?.startUs ?? Number.POSITIVE_INFINITY
  return strokes.map((s, i) => ({ ...s, nextUs: strokes[i + 1]?.startUs ?? openUs }))
}

/** Pressures of the middle half of each time between strokes: what is drawn and vented lies at its ends. */
export function rawRests(readings: RawPressures, strokes: readonly RawStroke[]): Float64Array[] {
  const ends = [readings.at(0)?.tUs ?? 0, ...strokes.map((s) => s.endUs)]
  return ends
    .map((fromUs, i) => {
      const toUs = strokes[i]?.startUs ?? readings.at(-1)?.tUs ?? fromUs
      const quarterUs = (toUs - fromUs) / 4
      return readings.part(indexAt(readings, fromUs + quarterUs), indexAt(readings, toUs - quarterUs)).of.rawPa
    })
    .filter((rest) => rest.length >= criteria.zeroReadings)
}
