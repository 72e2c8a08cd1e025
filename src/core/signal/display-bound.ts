// The ends of strokes, and where the hand slows down in them, into how slow the display can be: one that comes to rest quickly is neither damped nor averaged for long.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import { columnOf } from '../model/columns.ts'
import type { Track } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { isSame } from '../statistics/is-same.ts'
import { type Readings, type Span, type StopBound, stopBound } from './stop-bound.ts'

/**
 * Upper bounds of the display's time constant and of the stretch it averages over, s, infinite where nothing bounds them. The tee
 * is never below rest, so a first-order display keeps at least exp(−t/τ) of what it shows; of a mean over w no more than t/w of the
 * greatest pressure leaves it within t. `easedS`: of a fall that eases to rest, as most vents do, it keeps at least (1 − t/w)²; one at an even
 * pace bounds w by this alone. A fall says nothing of the way up: `rise` is bounded by stops of the hand there alone, the way down by both; where no
 * hand slowed down on the rise, as one that draws at an even pace to its peak and vents there, the way down has to tell for both.
 * Two strokes must show it: one alone may be a stray reading. `known`: the bound when less was known of the session,
 * and how many samples of the track are still the same.
 */
export function displayBound(
  track: Track,
  strokes: readonly Stroke[],
  sizes: Sizes,
  stops: { readings: Readings; edges: readonly Span[] },
  known: { bound: DisplayBound; samples: number } | null = null,
): DisplayBound {
  const renews = stops.readings !== track
  const isAlike = known !== null && known.bound.renews === renews && isSame(known.bound.sizes, sizes)
  const before = new Map(isAlike ? known.bound.strokes.map((e) => [e.endUs, e]) : [])
  const each = strokes.map((stroke): StrokeBound => {
    const { startUs, endUs } = stroke
    // All that it looks at, and one reading more.
    const lastRead = indexAt(track, endUs + 2 * criteria.ventLookS * 1e6)
    const edges = stops.edges
      .filter(({ loUs, hiUs }) => hiUs > startUs && loUs - criteria.stopClearS * 1e6 < endUs)
      .map(({ loUs, hiUs }) => ({ loUs, hiUs }))
    const found = known !== null && lastRead < known.samples ? before.get(endUs) : undefined
    if (found && isSame(found.edges, edges)) return found
    const stopOf = (way: 1 | -1) => stopBound(stops.readings, stroke, way, edges, sizes)
    return { endUs, edges, up: stopOf(1), down: stopOf(-1), vent: ventBound(track, endUs, sizes) }
  })
  const second = (ofEach: (bound: StrokeBound) => number) =>
    each.map(ofEach).sort((a, b) => a - b)[1] ?? Number.POSITIVE_INFINITY
  const stopsOf = (ofEach: (bound: StrokeBound) => StopBound): StopBound => ({
    dampingS: second((bound) => ofEach(bound).dampingS),
    averageS: second((bound) => ofEach(bound).averageS),
  })
  const [up, down] = [stopsOf((bound) => bound.up), stopsOf((bound) => bound.down)]
  const vented = stopsOf(({ vent }) => vent)
  const easedS = second(({ vent }) => vent.easedS)
  const either = {
    dampingS: Math.min(down.dampingS, vented.dampingS),
    averageS: Math.min(down.averageS, vented.averageS),
  }
  return {
    ...either,
    easedS: Math.min(down.averageS, easedS),
    rise: Number.isFinite(up.dampingS) ? up : either,
    ventedS: vented.dampingS,
    sizes,
    renews,
    strokes: each,
  }
}

type Sizes = { noisePa: number; digitPa: number; ratedPa: number }

/** The bounds, and what each stroke says. */
export type DisplayBound = {
  dampingS: number
  averageS: number
  easedS: number
  rise: StopBound
  /** The time constant by vents alone, s. */
  ventedS: number
  sizes: Sizes
  /** It took the readings that a slow display renewed. */
  renews: boolean
  strokes: StrokeBound[]
}

type VentBound = { dampingS: number; averageS: number; easedS: number }

/** What one stroke says, and the edges that it was looked at with. */
type StrokeBound = { endUs: number; edges: Span[]; up: StopBound; down: StopBound; vent: VentBound }

/**
 * How late a display with these bounds may show a steady ramp, s: by its time constant, or by half of the stretch it averages over,
 * which is no longer than any display's: a hand that lets the pressure down at an even pace bounds it little.
 */
export const mostLateS = ({ dampingS, averageS }: Pick<DisplayBound, 'dampingS' | 'averageS'>): number =>
  Math.max(dampingS, Math.min(averageS, criteria.mostAverageS) / 2)

/** A reading is counted in whole digits: less than one apart, it is the one before, with the drift of the zero. */
function repeats(pressurePa: Float64Array, i: number, digitPa: number): boolean {
  return i > 0 && Math.abs(pressurePa[i]! - pressurePa[i - 1]!) < digitPa / 2
}

/** Room for what rounding does. */
const sureOf = 1 + 1e-9

function ventBound(track: Track, endUs: number, { noisePa, digitPa, ratedPa }: Sizes): VentBound {
  const open = Number.POSITIVE_INFINITY
  const best = { dampingS: open, averageS: open, easedS: open }
  const leastPa = Math.max(criteria.ventNoises * noisePa, criteria.ventShare * ratedPa)
  const hiddenPa = criteria.restNoises * noisePa
  const lookUs = criteria.ventLookS * 1e6
  const fromUs = endUs - lookUs
  const toUs = endUs + lookUs
  // All that is looked at, and the reading behind it.
  const near = track.part(indexAt(track, fromUs), indexAt(track, toUs + lookUs) + 1)
  const { tUs, pressurePa } = near.of
  // A hand that pushes below rest proves nothing.
  for (let i = 0; i < near.length && tUs[i]! < toUs; i++) if (pressurePa[i]! < -leastPa) return best
  // The next reading, too, is at rest.
  const lowsPa = columnOf(near.length, (i) =>
    Math.max(pressurePa[i]!, pressurePa[i + 1] ?? Number.POSITIVE_INFINITY, 0),
  )
  // A display that shows 0 below a cut-off leaps there, however slow it is: only what stood before the leap counts.
  const restPa = hiddenPa + digitPa
  const leapPa = Math.max(leastPa, criteria.cutOffShare * ratedPa)
  let looked = 1
  while (looked < near.length && !(pressurePa[looked]! <= restPa && pressurePa[looked - 1]! > leapPa)) looked++
  let greatestPa = 0
  for (let i = 0; i < near.length && tUs[i]! < toUs; i++) {
    const highUs = tUs[i]!
    const highPa = pressurePa[i]!
    greatestPa = Math.max(greatestPa, (1 + criteria.hiddenPeakShare) * highPa)
    // A display that repeats itself showed it first where it was measured.
    if (highPa < leastPa || repeats(pressurePa, i, digitPa)) continue
    let lowestPa = Number.POSITIVE_INFINITY
    for (let k = i + 1; k < looked && tUs[k]! - highUs < lookUs; k++) {
      // A share that was shown earlier bounds it more closely.
      if (!(lowsPa[k]! < lowestPa)) continue
      lowestPa = lowsPa[k]!
      const [fromPa, toPa] = [highPa - hiddenPa, lowestPa + hiddenPa]
      const share = toPa / fromPa
      if (!(share < 1)) continue
      const tS = (tUs[k]! - highUs) / 1e6
      best.averageS = Math.min(best.averageS, (tS * (greatestPa + hiddenPa)) / (fromPa - toPa))
      // Most shares bound the others no more closely, which −ln(s) ≤ 1/s − 1 and 1 − √s ≤ 1 − s tell sooner.
      if (share * (1 + tS / best.dampingS) < sureOf) best.dampingS = Math.min(best.dampingS, tS / -Math.log(share))
      if (tS < best.easedS * (1 - share) * sureOf) best.easedS = Math.min(best.easedS, tS / (1 - Math.sqrt(share)))
    }
  }
  // A fall that has hardly begun before the leap bounds nothing.
  const begun = looked >= near.length || best.dampingS < criteria.ventLookS
  return begun ? best : { ...best, dampingS: open }
}
