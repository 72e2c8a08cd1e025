// Changes of the contact, less what was typed while it was held, into the spells in which a whole stroke may be hidden.
import { quantile } from 'simple-statistics'
import { criteria } from '../criteria.table.ts'
import type { TypedReading } from '../model/typed.ts'
import type { Edge } from '../strokes/edges.ts'

/** The contact stayed made, or open, for `lastedS`, where `usualS` is usual. */
export type LongSpell = { atUs: number; made: boolean; lastedS: number; usualS: number }

/**
 * A stroke that does not release lasts as a whole vent and the next draw do, one that does not make as two rests: nobody records
 * the pressure, so the time alone tells. What a hold took is taken off; before the first change and after the
 * last nothing is known to compare.
 */
export function longSpells(edges: readonly Edge[], typed: readonly TypedReading[]): LongSpell[] {
  const heldS = (fromUs: number, toUs: number) =>
    typed.reduce((sum, { what, tUs }, i) => {
      const start = typed[i - 1]
      const isWithin = start?.what === 'hold-start' && what === 'hold-end' && start.tUs > fromUs && tUs < toUs
      return isWithin ? sum + (tUs - start.tUs) / 1e6 : sum
    }, 0)
  const spells = edges.slice(1).map((next, i) => {
    const { hiUs, to } = edges[i]!
    return { atUs: hiUs, made: to, lastedS: (next.hiUs - hiUs) / 1e6 - heldS(hiUs, next.hiUs) }
  })
  return spells.flatMap((spell) => {
    const lasted = spells.filter(({ made }) => made === spell.made).map(({ lastedS }) => lastedS)
    const usualS = quantile(lasted, criteria.typedUsualShare)
    return spell.lastedS > criteria.typedSpellTimes * usualS ? [{ ...spell, usualS }] : []
  })
}
