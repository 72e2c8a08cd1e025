// What the second manometer showed into the pressure at the switch end, as long as it may be believed, and why no longer.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { Columns } from '../model/columns.ts'
import type { ManometerSpec } from '../model/rig.ts'
import { isInRange, type Track } from '../model/samples.ts'
import { toArray } from '../model/series.ts'
import { isOverdue, type Setup } from '../model/setup.ts'
import { indexAt } from '../statistics/index-at.ts'
import { type Placing, placeInTime } from './instrument-times.ts'
import { pinchedS } from './pinched.ts'
import { zeroedTrack } from './pressure-track.ts'
import { findZero, type Zero } from './zero.ts'

/** Why the second manometer proves nothing, or nothing more: the first that applies. */
export type Unproving = 'nothing-read' | 'overdue' | 'no-zero' | 'unit-changed' | 'lost' | 'silent'

export type SwitchEnd = {
  manometer: ManometerSpec
  /** That of the first rest alone: a line that holds back keeps some pressure at the switch in every later one. */
  zero: Zero
  /** How far a later rest lies from it, Pa: the display, or what the line has kept. */
  movedPa: number
  /** Zero subtracted; it ends where the manometer was first lost, silent or changed its unit. */
  track: Track
  /** The same to the end, as long as its unit is known: what speaks against the first manometer counts from a bad link too. */
  seen: Track
  placing: Placing
  /** A pinched hose has shown that it sits at the switch end. */
  placed: boolean
  /** Readings that stood out alone. */
  wild: number
  ended: { why: Unproving; tUs: number } | null
}

/** null where the rig has no second manometer. */
export function switchEndOf(run: Run, setup: Setup, zeroMarksUs: readonly number[], tee: Track): SwitchEnd | null {
  const { rating, rig } = setup
  const manometer = rig.atSwitch
  if (manometer === null) return null
  const breaksUs = toArray(run.linkBreaks).flatMap(({ port, tUs }) => (port === 'manometer-2' ? [tUs] : []))
  const { rawPa } = run.atSwitch.part().of
  const placing = placeInTime(run.atSwitch, breaksUs, (i) => rawPa[i]!)
  const { tUs, halfUs } = placing
  const all = new Columns({ tUs, rawPa, halfUs }, tUs.length)
  const ended = endOf(run, setup, manometer, all, breaksUs)
  const raw = all.part(0, ended === null ? all.length : indexAt(all, ended.tUs))
  const { before, after, noisePa, vents } = findZero(
    raw,
    zeroMarksUs,
    manometer.digitPa,
    rating.ratedPa,
    run.end !== null,
  )
  const zero: Zero = { before, after: null, noisePa }
  const rests = [...(vents?.knots ?? []), ...(after ? [after] : [])]
  const movedPa = Math.max(0, ...rests.map(({ meanPa }) => Math.abs(meanPa - (before?.meanPa ?? 0))))
  const track = zeroedTrack(raw, zero, manometer.digitPa)
  const seen = ended === null || ended.why === 'unit-changed' ? track : zeroedTrack(all, zero, manometer.digitPa)
  const unzeroed = before === null ? { why: 'no-zero' as const, tUs: 0 } : null
  const wild = raw.where((i) => isInRange(raw.of.rawPa[i]!)).length - track.length
  const placed = pinchedS(tee, track, rating.ratedPa).longestS >= criteria.pinchUs / 1e6
  return { manometer, zero, movedPa, track, seen, placing, placed, wild, ended: ended ?? unzeroed }
}

function endOf(
  run: Run,
  setup: Setup,
  manometer: ManometerSpec,
  all: Columns<'tUs'>,
  breaksUs: readonly number[],
): SwitchEnd['ended'] {
  if (all.length === 0) return { why: 'nothing-read', tUs: 0 }
  if (isOverdue(setup, manometer.due)) return { why: 'overdue', tUs: Number.POSITIVE_INFINITY }
  const { tUs } = all.of
  let i = 1
  while (i < all.length && tUs[i]! - tUs[i - 1]! <= criteria.silentUs) i++
  const isSilent = (tUs[i] ?? run.tUs) - tUs[i - 1]! > criteria.silentUs
  const unitUs = run.ports.find(({ name }) => name === 'manometer-2')?.unitChangedUs ?? Number.POSITIVE_INFINITY
  const isLost = isSilent && breaksUs.some((breakUs) => breakUs >= tUs[i - 1]! && breakUs <= (tUs[i] ?? run.tUs))
  const ends: NonNullable<SwitchEnd['ended']>[] = [
    { why: 'unit-changed', tUs: unitUs },
    { why: 'lost', tUs: breaksUs[0] ?? Number.POSITIVE_INFINITY },
    // The reading before the silence is the last one that is believed.
    { why: isLost ? 'lost' : 'silent', tUs: isSilent ? tUs[i - 1]! + 1 : Number.POSITIVE_INFINITY },
  ]
  const first = ends.reduce((a, b) => (b.tUs < a.tUs ? b : a))
  return Number.isFinite(first.tUs) ? first : null
}
