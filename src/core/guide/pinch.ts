// The newest readings of both manometers into how long a pinched hose has kept them apart, for the guide.
import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { Columns } from '../model/columns.ts'
import type { Setup } from '../model/setup.ts'
import { pinchedS } from '../signal/pinched.ts'
import { indexAt } from '../statistics/index-at.ts'

/** Seconds: the longest stretch, and the one that goes on. */
export type Pinch = ReturnType<typeof pinchedS>

/** null where the rig has no second manometer, or it proves nothing any more; once cycles count nothing is looked for. */
export function pinchOf(run: Run, { rating, rig }: Setup, assessment: Assessment, counting: boolean): Pinch | null {
  const { switchEnd, strokes } = assessment?.analysis ?? {}
  if (rig.atSwitch === null || switchEnd?.ended) return null
  if (!switchEnd) return { longestS: 0, nowS: 0 }
  // The analysis has seen all up to its last stroke.
  if (switchEnd.placed) return { longestS: criteria.pinchUs / 1e6, nowS: 0 }
  if (counting) return { longestS: 0, nowS: 0 }
  const fromUs = strokes?.at(-1)?.endUs ?? 0
  const tee = lessZero(run.pressure, run.tracker.zeroPa, fromUs)
  return pinchedS(tee, lessZero(run.atSwitch, switchEnd.zero.before?.meanPa ?? 0, fromUs), rating.ratedPa)
}

function lessZero(all: Run['pressure'], zeroPa: number, fromUs: number): Columns<'tUs' | 'pressurePa'> {
  const { of, length } = all.part(indexAt(all, fromUs))
  return new Columns({ tUs: of.tUs, pressurePa: of.rawPa.map((pa) => pa - zeroPa) }, length)
}
