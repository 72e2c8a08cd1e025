// Single strokes into a finding: one that counts lies outside a limit, or any lies far from the rest where no limit is given.
import { criteria } from '../../criteria.table.ts'
import { median } from '../../statistics/mean.ts'
import type { TripValue } from '../../trips/trip-moment.ts'
import { ownHalfPa, ownInterval, widened } from '../../uncertainty/single-trip.ts'
import { countedTrips } from '../counted-trips.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type ReadSpan, readSpan, sideOutside } from '../read-span.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'
import { intermittent } from './intermittent.ts'
import { stayedMade } from './stayed-made.ts'

type Cycle = Case['cycles'][number]
type Odd = { cycle: Cycle; did: string; pressurePa: number; beyond: string; fails: boolean }

/**
 * The mean of many strokes hides what one of them did. One that counts and lies outside a limit by more than it is uncertain itself
 * keeps the part from a pass; where it conducts too early by all that was read, however late the contact, it fails.
 */
export const oddStroke: Rule = (c) => {
  // A contact that stays closed releases far from the others: that is told already.
  if (stayedMade(c).some(({ effect }) => effect === 'fail')) return []
  const odd = c.cycles.flatMap((cycle, i) => [
    ...(['make', 'break'] as const).flatMap((t) => [...outside(c, cycle, t), ...farFromOthers(c, cycle, t, i === 0)]),
    ...differentialOutside(c, cycle),
  ])
  const worst = odd.find(({ fails }) => fails) ?? odd[0]
  // A contact that makes again is told by its own finding, as undecided as this one.
  if (!worst || (!worst.fails && intermittent(c).length > 0)) return []
  const { cycle, did, pressurePa, beyond, fails } = worst
  const strokes = new Set(odd.map((o) => o.cycle.stroke)).size
  return [
    sight(
      fails ? 'fail' : 'undecided',
      cycle.span.endUs,
      `Stroke ${cycle.stroke} ${did} ${sayPressure(c, pressurePa)}, ${beyond}. ${fails ? 'Reject it.' : 'Repeat the test; if it happens again reject it.'}`,
      { strokes, of: c.cycles.length, pressurePa },
    ),
  ]
}

const didText = { make: 'made at', break: 'released at' } as const

function outside(c: Case, cycle: Cycle, transition: 'make' | 'break'): Odd[] {
  const limit = c.setup.rating.limits[transition]
  const value = cycle[`${transition}Value`]
  const edge = cycle[transition]
  if (!cycle.used || limit === null || value === null || edge === null || outcomeOf(c, transition) === 'fail') return []
  const side = sideOutside({ ...ownInterval(value, c.measured[transition]), openPa: 0 }, limit)
  if (side === null) return []
  const surely = sideOutside({ ...widened(value, c.measured[transition]), openPa: 0 }, limit) === side
  const read = readSpan(c, transition, edge, criteria.mostLagS)
  const unsafe = side === (c.setup.rating.kind === 'draft-proving' ? 'low' : 'high')
  const beyond = side === 'low' ? 'below its limit' : 'above its limit'
  const fails = unsafe && surely && !read.blind && sideOutside(read, limit) === side
  return [{ cycle, did: didText[transition], pressurePa: value.valuePa, beyond, fails }]
}

function differentialOutside(c: Case, cycle: Cycle): Odd[] {
  const limit = c.setup.rating.limits.differential
  const { used, makeValue, breakValue } = cycle
  if (!used || limit === null || !makeValue || !breakValue || outcomeOf(c, 'differential') === 'fail') return []
  const { instrumentU, lagUs } = c.measured.differential
  const pressurePa = makeValue.valuePa - breakValue.valuePa
  const openU = Math.hypot(instrumentU, (makeValue.ratePaPerS + breakValue.ratePaPerS) * lagUs)
  const halfPa = ownHalfPa(makeValue) + ownHalfPa(breakValue) + criteria.coverageFactor * openU
  const side = sideOutside({ lowPa: pressurePa - halfPa, highPa: pressurePa + halfPa, openPa: 0 }, limit)
  if (side === null) return []
  const beyond = side === 'low' ? 'less than its limit' : 'more than its limit'
  return [{ cycle, did: 'differed by', pressurePa, beyond, fails: false }]
}

/**
 * The others tell what is usual: of a stroke that counts on both sides, of any other where no limit is given. The first stroke after
 * rest has findings of its own.
 */
function farFromOthers(c: Case, cycle: Cycle, transition: 'make' | 'break', isFirst: boolean): Odd[] {
  const { why, used } = cycle
  const edge = cycle[transition]
  const value = cycle[`${transition}Value`]
  if (edge === null || why === 'discarded' || why === 'unit-changed' || why === 'frozen') return []
  if (isFirst && why === null) return []
  const others = countedTrips(c, transition).filter((v) => v !== value)
  const usualPa = median(others.map(({ valuePa }) => valuePa))
  if (usualPa === null || others.length < criteria.stickyCycles) return []
  const read = spanOf(c, used ? value : null, transition, edge)
  if (read === null) return []
  const farPa = criteria.oddShare * c.setup.rating.ratedPa
  const { lowPa = null, highPa = null } = c.setup.rating.limits[transition] ?? {}
  const usual = {
    lowPa: used || lowPa === null ? usualPa - farPa : null,
    highPa: used || highPa === null ? usualPa + farPa : null,
  }
  const side = sideOutside(read, usual)
  if (side === null) return []
  const beyond = `far ${side === 'low' ? 'below' : 'above'} the others at ${sayPressure(c, usualPa)}`
  const pressurePa = value?.valuePa ?? (read.lowPa + read.highPa) / 2
  return [{ cycle, did: didText[transition], pressurePa, beyond, fails: false }]
}

/** Of a stroke that counts its value, of any other all that was read about its edge; null where readings are missing there. */
function spanOf(
  c: Case,
  value: TripValue | null,
  transition: 'make' | 'break',
  edge: NonNullable<Cycle['make']>,
): Omit<ReadSpan, 'blind'> | null {
  if (value !== null) return { ...ownInterval(value, c.measured[transition]), openPa: 0 }
  const read = readSpan(c, transition, edge, criteria.mostLagS)
  return read.blind ? null : read
}
