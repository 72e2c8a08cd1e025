// A pressure track into a change of unit that no line tells: it jumps, or strokes differ, by the ratio of two units.
import { criteria } from '../criteria.table.ts'
import { isActuated, type Pair } from '../model/pair.ts'
import { type Contact, stateOf, type Track } from '../model/samples.ts'
import { pressureUnits } from '../model/units.ts'
import { indexAt } from '../statistics/index-at.ts'

export type UnitJump = { tUs: number; ratio: number }

type Shape = { startUs: number; peakPa: number; makePa: number | null; breakPa: number | null }

/** Ratios of any two units that a manometer may show, greater than one. */
const ratios = [...new Set(Object.values(pressureUnits))]
  .flatMap((a, _, all) => all.map((b) => a / b))
  .filter((r) => r > criteria.unitRatio)

/** No jump by one of them is smaller. */
const leastRatio = criteria.unitRatio * (1 - criteria.unitJumpShare)

/** The ratio of two units at which all pairs of pressures lie, up or down; null where there is none. */
function knownRatio(pairs: readonly (readonly [number, number])[], share: number): number | null {
  const up = pairs.map(([a, b]) => b / a)
  const down = up.map((r) => 1 / r)
  const isAt = (known: number) => [up, down].some((all) => all.every((r) => Math.abs(r / known - 1) < share))
  return ratios.find(isAt) ?? null
}

/**
 * Between two neighbouring readings of a steady ramp, where the contact did not follow (`actuatedAfter`); or at rest, where it shows
 * only in the next stroke: peak and both trips at one ratio to those of the stroke before. Null where neither is seen.
 */
export function findUnitJump(
  track: Track,
  shapes: readonly Shape[],
  actuatedAfter: (tUs: number) => boolean | null,
  ratedPa: number,
): UnitJump | null {
  const { tUs, pressurePa } = track.of
  for (let i = 1; i < track.length; i++) {
    const a = pressurePa[i - 1]!
    const b = pressurePa[i]!
    // Nearly all readings lie too near to the one before, up or down.
    const step = b / a
    if (step < leastRatio && step > 1 / leastRatio) continue
    const [before, after, later] = [pressurePa[i - 2], pressurePa[i + 1], pressurePa[i + 2]]
    if (before === undefined || after === undefined || later === undefined) continue
    const steady = (x: number, y: number) => Math.abs(x - y) < criteria.unitSteadyShare * Math.abs(x)
    if (!steady(before, a) || !steady(b, after) || !steady(after, later)) continue
    const ratio = knownRatio([[a, b]], criteria.unitJumpShare)
    if (ratio === null) continue
    const atUs = tUs[i]!
    const actuated = actuatedAfter(atUs)
    const contradicts =
      (b > criteria.unitMadeShare * ratedPa && a < ratedPa && actuated === false) ||
      (b < criteria.unitOpenShare * ratedPa && a > ratedPa / 2 && actuated === true)
    if (contradicts) return { tUs: atUs, ratio }
  }
  for (let k = 1; k < shapes.length; k++) {
    const [x, y] = [shapes[k - 1]!, shapes[k]!]
    if (x.makePa === null || x.breakPa === null || y.makePa === null || y.breakPa === null) continue
    const pairs = [
      [x.peakPa, y.peakPa],
      [x.makePa, y.makePa],
      [x.breakPa, y.breakPa],
    ] as const
    const ratio = knownRatio(pairs, criteria.unitPeakShare)
    if (ratio !== null) return { tUs: y.startUs, ratio }
  }
  return null
}

/** Whether the pair is actuated at its last reading that is not later than a while after `tUs`; null where none came. */
export function settledAfter(contact: Contact, tUs: number, pair: Pair): boolean | null {
  const late = indexAt(contact, tUs + criteria.unitContactUs) - 1
  return late >= 0 && contact.of.tUs[late]! > tUs ? isActuated(stateOf(contact.of.state[late]), pair) : null
}
