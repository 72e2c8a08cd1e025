// Held vacuum into a leak: how much of it is lost in a minute, and whether hose or switch loses it.
import { criteria } from '../criteria.table.ts'
import type { TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { fitLine } from '../statistics/line.ts'
import type { Case, Sight } from './rule.ts'

/** A loss is told for a minute. */
const perS = 60

/** One held stretch: loss over a minute at the rated point as a share of it, with its standard uncertainty. `what` = the mark's text. */
type Hold = { tUs: number; what: string | null; share: number; u: number }

function holds(c: Case): Hold[] {
  const marks = c.run.marks.items.slice(0, c.run.marks.length)
  return marks.flatMap((mark, i): Hold[] => {
    if (mark.mark !== 'leak-hold') return []
    const endUs = Math.min(marks[i + 1]?.tUs ?? c.run.tUs, mark.tUs + (criteria.leakSettleS + perS) * 1e6)
    const from = indexAt(c.track, mark.tUs + criteria.leakSettleS * 1e6)
    const held: TrackSample[] = []
    for (let k = from; k < c.track.length && c.track.of.tUs[k]! <= endUs; k++) {
      const sample = c.track.at(k)!
      const before = held.at(-1)
      // The hand has taken over again: a vent or a new stroke is no leak.
      if (before && Math.abs(sample.pressurePa - before.pressurePa) > criteria.leakStepShare * before.pressurePa) break
      held.push(sample)
    }
    const first = held[0]
    const last = held.at(-1)
    if (!first || !last || last.tUs - first.tUs < criteria.leakHeldS * 1e6 || first.pressurePa <= 0) return []
    // A laminar leak is exponential: the slope of ln P is the rate at any pressure.
    const positive = held.filter((s) => s.pressurePa > 0)
    const line = fitLine(
      positive.map((s) => (s.tUs - first.tUs) / 1e6),
      positive.map((s) => Math.log(s.pressurePa)),
    )
    return line ? [{ tUs: mark.tUs, what: mark.text, share: -line.slope * perS, u: line.uSlope * perS }] : []
  })
}

export type Leak = {
  tUs: number
  /** The line alone held and with the switch on it did not. */
  diaphragm: boolean
  /** What is lost, in words. */
  lost: string
  evidence: Sight['evidence']
}

/** The first hold that loses too much; null where none does. */
export function leakSeen(c: Case): Leak | null {
  const all = holds(c)
  const leaking = all.filter((h) => h.share - criteria.coverageFactor * h.u > criteria.leakShare)
  const first = leaking[0]
  if (!first) return null
  // The clamp ladder: the line alone was tight, with the switch on it is not.
  const withSwitch = leaking.every((h) => h.what?.includes('switch'))
  const lineTight = all.some((h) => h.what?.includes('line') && !leaking.includes(h))
  return {
    tUs: first.tUs,
    diaphragm: withSwitch && lineTight,
    lost: `${(100 * first.share).toFixed(0)} % of the vacuum is lost in a minute`,
    evidence: { lossPerMinute: first.share, uLoss: first.u, allowed: criteria.leakShare, holds: all.length },
  }
}
