// Pressures typed at rest and while held into the zero and into how fast the closed bench loses its vacuum.
import { criteria } from '../criteria.table.ts'
import type { TypedReading } from '../model/typed.ts'
import { type Zero, zeroAt } from '../signal/zero.ts'
import { sampleSd } from '../statistics/mean.ts'

type Trips = readonly { loUs: number; hiUs: number }[]

/** The zero typed last before the first change of the contact, and first after the last one; those between tell whether it holds. */
export function typedZero(typed: readonly TypedReading[], edges: Trips, digitPa: number, ratedPa: number): Zero {
  const zeros = typed.filter(({ what, rawPa }) => what === 'zero' && Math.abs(rawPa) < criteria.restShare * ratedPa)
  const rest = ({ tUs, rawPa }: TypedReading) => ({ tUs, meanPa: rawPa, sdPa: 0, n: 1 })
  const [first, last] = [edges[0]?.loUs ?? Number.POSITIVE_INFINITY, edges.at(-1)?.hiUs ?? Number.POSITIVE_INFINITY]
  const before = zeros.findLast(({ tUs }) => tUs < first)
  const after = zeros.find(({ tUs }) => tUs > last)
  const ends = {
    before: before ? rest(before) : null,
    after: after ? rest(after) : null,
    noisePa: digitPa / Math.sqrt(12),
  }
  const scatterPa = sampleSd(zeros.map(({ tUs, rawPa }) => rawPa - zeroAt(ends, tUs))) ?? 0
  return { ...ends, vents: { knots: null, scatterPa, jumps: [] } }
}

/** Two pressures of a bench that was held closed. Pa, s; `atUs`: when the second was typed. */
export type TypedHold = { atUs: number; fromPa: number; toPa: number; forS: number; digitPa: number }

/** The holds that tell of a leak: long enough, with no change of the contact between, and not topped up. */
export function typedHolds(typed: readonly TypedReading[], edges: Trips, ratedPa: number, zero: Zero): TypedHold[] {
  return typed.flatMap((end, i): TypedHold[] => {
    const start = typed[i - 1]
    if (end.what !== 'hold-end' || start?.what !== 'hold-start') return []
    const forS = (end.tUs - start.tUs) / 1e6
    const digitPa = Math.max(start.digitPa, end.digitPa)
    const [fromPa, toPa] = [start, end].map(({ rawPa, tUs }) => rawPa - zeroAt(zero, tUs)) as [number, number]
    const moved = edges.some(({ loUs, hiUs }) => hiUs > start.tUs && loUs < end.tUs)
    const low = fromPa < criteria.holdFromShare * ratedPa
    return moved || low || forS < criteria.holdS || toPa > fromPa + digitPa
      ? []
      : [{ atUs: end.tUs, fromPa, toPa, forS, digitPa }]
  })
}

/** The fastest loss that the holds do not exclude, Pa/s: each end may be half a digit off, and typed so much late. null without a hold. */
export function typedLossPaPerS(holds: readonly TypedHold[], reactionS: number): number | null {
  const losses = holds.map(
    ({ fromPa, toPa, forS, digitPa }) => (Math.max(0, fromPa - toPa) + digitPa) / (forS - reactionS),
  )
  return losses.length === 0 ? null : Math.max(...losses)
}
