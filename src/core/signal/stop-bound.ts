// Places where a quick hand slows down into how slow the display can be on that way: a slow one goes on after the hand has stopped.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { Columns } from '../model/columns.ts'
import { indexAt } from '../statistics/index-at.ts'

/** Upper bounds of the display's time constant and of the stretch it averages over, s, infinite where no stop bounds them. */
export type StopBound = { dampingS: number; averageS: number }

type Sizes = { noisePa: number; digitPa: number; ratedPa: number }
/** Readings that carry news: one that a display repeats would look like a stop. */
export type Readings = Columns<'tUs' | 'pressurePa'>
export type Span = { loUs: number; hiUs: number }

/**
 * While the tee does not turn back, a first-order display that goes a in a span h goes at least a·exp(−h/τ) in the next, as
 * P − p = τ·dp/dt falls no quicker than that; the pace of a mean over w falls by no more than the hand's pace times h/w. The hand's
 * pace is the greatest that was shown, with a share more; from near it only, since the end of a mean looks quick. `way`: 1 up, −1 down.
 * A trip moves the tee against the hand, so that none may lie there; and near rest a display may leap to its zero.
 */
export function stopBound(
  readings: Readings,
  { startUs, endUs }: Pick<Stroke, 'startUs' | 'endUs'>,
  way: 1 | -1,
  edges: readonly Span[],
  { noisePa, digitPa, ratedPa }: Sizes,
): StopBound {
  const best = { dampingS: Number.POSITIVE_INFINITY, averageS: Number.POSITIVE_INFINITY }
  const { of, length } = readings.part(indexAt(readings, startUs), indexAt(readings, endUs))
  const tS = Array.from(of.tUs.subarray(0, length), (tUs) => tUs / 1e6)
  const pa = Array.from(of.pressurePa.subarray(0, length), (pressurePa) => way * pressurePa)
  // Of the difference of two readings; a digit that noise does not move hides no more than itself.
  const hiddenPa = Math.max(digitPa, criteria.restNoises * Math.SQRT2 * noisePa)
  const leastPaPerS = criteria.stopShare * ratedPa
  for (const spanS of stopSpansS) {
    // The way of the span that ends at each reading, as a pace; none where it would begin before the stroke.
    const paces = pa.map(() => 0)
    const begins = pa.map(() => -1)
    for (let i = 0, from = 0; i < length; i++) {
      while (tS[i]! - tS[from + 1]! >= spanS) from++
      if (tS[i]! - tS[from]! < spanS) continue
      begins[i] = from
      paces[i] = (pa[i]! - pa[from]!) / (tS[i]! - tS[from]!)
    }
    for (let i = 0; i < length; i++) {
      const from = begins[i]!
      if (from < 0 || paces[i]! < leastPaPerS) continue
      const hS = tS[i]! - tS[from]!
      let to = i + 1
      while (to < length && tS[to]! - tS[i]! < hS) to++
      if (to >= length) break
      const wentPa = pa[i]! - pa[from]! - hiddenPa
      const goesPa = Math.max(0, pa[to]! - pa[i]!) + hiddenPa
      // Of many spans some lie where noise makes a stop of nothing: only a way that is far above it counts.
      if (!(goesPa < wentPa) || wentPa < criteria.stopTimes * hiddenPa) continue
      const dampingS = hS / Math.log(wentPa / goesPa)
      const averageS = (handPaPerS: number) =>
        ((1 + criteria.hiddenPeakShare) * handPaPerS * hS * hS) / (wentPa - goesPa)
      if (!(dampingS < best.dampingS || averageS(paces[i]!) < best.averageS)) continue
      let greatest = 0
      for (let k = i; k >= 0 && tS[i]! - tS[k]! < criteria.stopBackS; k--) greatest = Math.max(greatest, paces[k]!)
      if (paces[i]! < criteria.stopFullShare * greatest) continue
      if (edges.some(({ loUs, hiUs }) => loUs / 1e6 - criteria.stopClearS < tS[to]! && hiUs / 1e6 > tS[from]!)) continue
      if (!goesOn(from, to)) continue
      best.dampingS = Math.min(best.dampingS, dampingS)
      best.averageS = Math.min(best.averageS, averageS(greatest))
    }
  }
  return best

  /** Whether nothing turns back there, nor for a while behind: a slow display shows a hand that did so only then. */
  function goesOn(from: number, to: number): boolean {
    let greatestPa = Number.NEGATIVE_INFINITY
    for (let k = from; k < length; k++) {
      if (Math.abs(pa[k]!) < criteria.restShare * ratedPa && way < 0) return false
      if (pa[k]! < greatestPa - hiddenPa) return false
      if (tS[k]! - tS[to]! >= criteria.stopStayS) return true
      greatestPa = Math.max(greatestPa, pa[k]!)
    }
    return false
  }
}

/** Spans that are compared, s. */
const stopSpansS = [0.2, 0.35, 0.6, 1]
