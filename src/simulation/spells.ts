// Things that happen for a while at a stated moment of the test, such as a cable that comes off: strokes into stretches of time.

/** Begins `afterS` after the given stroke (from 1) has left rest and lasts `forS`; null = to the end. */
export type Spell = { stroke: number; afterS: number; forS: number | null }

export type Spells<S extends Spell> = {
  /** Dates the spells of this stroke; gives them with their times in µs (`endUs` Infinity = to the end). */
  strokeStarted(stroke: number, timeUs: number): readonly Dated<S>[]
  /** The spell in force at a time, null if none. */
  at(timeUs: number): Dated<S> | null
}

export type Dated<S extends Spell> = S & { startUs: number; endUs: number }

/** Follows a list of spells through the strokes; an empty list is never in force. */
export function createSpells<S extends Spell>(list: readonly S[]): Spells<S> {
  const dated: Dated<S>[] = []
  return {
    strokeStarted(stroke, timeUs) {
      const begun = list
        .filter((spell) => spell.stroke === stroke)
        .map((spell) => {
          const startUs = timeUs + Math.round(spell.afterS * 1e6)
          const endUs = spell.forS === null ? Number.POSITIVE_INFINITY : startUs + Math.round(spell.forS * 1e6)
          return { ...spell, startUs, endUs }
        })
      dated.push(...begun)
      return begun
    },
    at: (timeUs) => dated.find((spell) => spell.startUs <= timeUs && timeUs < spell.endUs) ?? null,
  }
}
