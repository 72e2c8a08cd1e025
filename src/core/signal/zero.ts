// Rests of the vented manometer into the zero that is subtracted: linear in time between the first and the last, unless those between say otherwise.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import { indexAt } from '../statistics/index-at.ts'
import { interpolate } from '../statistics/interpolate.ts'
import { median, medianOfOwn } from '../statistics/mean.ts'
import { findVents, type Vents, type ZeroRest } from './vents.ts'

/** Pressures with the zero still in them. */
export type RawRows = Columns<'tUs' | 'rawPa'>

export type Zero = {
  before: ZeroRest | null
  after: ZeroRest | null
  /** Noise of single readings at rest, Pa: never below digit/√12, since equal digits hide it. */
  noisePa: number
  /** What the rests between the strokes say of it; absent where they were not looked at. */
  vents?: Vents
}

/**
 * The zero rests of a session. With marks: each stretch from 1 s after a `zero` mark until the reading moves by more
 * than 3 × noise, at most 10 s. Without a usable one: the rests before the first and after the last stroke.
 * `finished` = the session is over, so what stands at its end is a rest and not a stroke in progress.
 */
export function findZero(
  samples: RawRows,
  zeroMarksUs: readonly number[],
  digitPa: number,
  ratedPa: number,
  finished: boolean,
): Zero {
  // Of neighbours near rest, in strokes too: most of them are still, where a rest that ends at once may be half a stroke.
  const nearRest = new Float64Array(samples.length)
  const restPa = criteria.restShare * ratedPa
  let count = 0
  for (let i = 0; i < samples.length; i++) {
    const rawPa = samples.of.rawPa[i]!
    if (Math.abs(rawPa) < restPa) nearRest[count++] = rawPa
  }
  const stillPa = successiveNoise(nearRest.subarray(0, count))
  const rest = (from: number, direction: 1 | -1) => restFrom(samples, from, direction, digitPa, stillPa)
  const marked = zeroMarksUs
    .map((tUs) => rest(indexAt(samples, tUs + criteria.zeroDelayUs), 1))
    // A mark with a stroke at once behind it opens no vented stretch.
    .filter((r): r is ZeroRest => vented(r, 0, criteria.restShare * ratedPa) !== null)
  const opening = marked[0] ?? vented(rest(0, 1), 0, criteria.restShare * ratedPa)
  const closing =
    marked.length > 1
      ? (marked.at(-1) ?? null)
      : finished
        ? vented(rest(samples.length - 1, -1), opening?.meanPa ?? 0, criteria.closingZeroShare * ratedPa)
        : null
  // One single rest is no pair: without a stroke between them the stretch from the end meets the one from the start.
  const after = closing && opening && closing.tUs > opening.tUs + criteria.zeroDelayUs ? closing : null
  const noisePa = Math.max(digitPa / Math.sqrt(12), opening?.sdPa ?? 0, after?.sdPa ?? 0)
  const ends = { before: opening, after, noisePa }
  return { ...ends, vents: findVents(samples, ends, (tUs) => zeroAt(ends, tUs), digitPa, ratedPa) }
}

/**
 * The zero at `tUs`, Pa: linear between the first and the last rest, or from rest to rest where those between are off that
 * line; flat outside; 0 where there was none.
 */
export function zeroAt(zero: Zero, tUs: number): number {
  const { before, after, vents } = zero
  if (vents?.knots)
    return interpolate(
      vents.knots,
      tUs,
      (v) => v.tUs,
      (v) => v.meanPa,
    )
  if (before === null) return after?.meanPa ?? 0
  if (after === null) return before.meanPa
  const share = Math.min(1, Math.max(0, (tUs - before.tUs) / (after.tUs - before.tUs)))
  return before.meanPa + share * (after.meanPa - before.meanPa)
}

function vented(found: ZeroRest | null, expectedPa: number, withinPa: number): ZeroRest | null {
  return found && Math.abs(found.meanPa - expectedPa) < withinPa ? found : null
}

/**
 * The stretch that starts at index `from` and runs in `direction` until the reading has moved away twice in a row. `stillPa`:
 * noise of the session near rest; a stroke that begins within the opening readings would make theirs too large.
 */
function restFrom(
  samples: RawRows,
  from: number,
  direction: 1 | -1,
  digitPa: number,
  stillPa: number,
): ZeroRest | null {
  const { of, length } = samples
  if (from < 0 || from >= length) return null
  const firstUs = of.tUs[from]!
  const openingReadings = criteria.zeroOpeningReadings
  const opening: number[] = []
  for (let i = from; i >= 0 && i < length && opening.length < openingReadings; i += direction)
    opening.push(of.rawPa[i]!)
  const openingNoisePa = Math.min(successiveNoise(opening), stillPa)
  const openingPa = median(opening.slice(0, criteria.zeroMedianReadings)) ?? 0
  let [n, meanPa, squares, meanUs, away, lastUs] = [0, 0, 0, 0, 0, firstUs]
  for (let i = from; i >= 0 && i < length; i += direction) {
    const tUs = of.tUs[i]!
    const rawPa = of.rawPa[i]!
    if (Math.abs(tUs - firstUs) > criteria.zeroS * 1e6) break
    // One digit of flicker is no movement: the floor is half a digit, so that 3 × noise is one and a half.
    const noisePa = Math.max(n < openingReadings ? openingNoisePa : Math.sqrt(squares / (n - 1)), digitPa / 2)
    // A single first reading is no mean yet.
    const expectedPa = n < criteria.zeroMedianReadings ? openingPa : meanPa
    if (Math.abs(rawPa - expectedPa) > criteria.zeroNoises * noisePa) {
      if (++away === criteria.zeroLeavingReadings) break
      continue
    }
    away = 0
    lastUs = tUs
    n++
    const step = rawPa - meanPa
    meanPa += step / n
    squares += step * (rawPa - meanPa)
    meanUs += (tUs - meanUs) / n
  }
  // A hand that begins at once leaves a few readings of its draw, which are no rest.
  if (n < criteria.zeroReadings || Math.abs(lastUs - firstUs) < criteria.zeroRestUs) return null
  return { tUs: meanUs, meanPa, sdPa: Math.sqrt(squares / (n - 1)), n }
}

/** Noise from differences of neighbours (their median over 0.954): a stretch that ends within these few readings does not count in. */
function successiveNoise(values: ArrayLike<number>): number {
  const steps = new Float64Array(Math.max(0, values.length - 1))
  for (let i = 0; i < steps.length; i++) steps[i] = Math.abs(values[i + 1]! - values[i]!)
  // Median of |N(0, 2σ²)| is 0.6745·√2·σ = 0.954 σ.
  return (medianOfOwn(steps) ?? 0) / 0.954
}
