// Single trips that the raw readings about them rule out into a finding: they count for nothing.
import { type Rule, sayPressure, sight } from '../rule.ts'

/** A trip that was read outside its bracket. */
export const outsideBracket: Rule = (c) =>
  c.contradicted.trips.slice(0, 1).map(({ stroke, tUs, transition, valuePa, lowPa, highPa }) => {
    const more = c.contradicted.trips.length - 1
    const others = more === 0 ? '' : ` So it is with ${more} more.`
    return sight(
      'undecided',
      tUs,
      `The ${transition} of stroke ${stroke} was worked out as ${sayPressure(c, valuePa)}, but the readings about it allow ${sayPressure(c, lowPa)} to ${sayPressure(c, highPa)} only.${others} It counts for nothing: look at that stroke in the plot, and draw more strokes at one even pace.`,
      { stroke, transition, valuePa, lowPa, highPa, trips: c.contradicted.trips.length },
    )
  })
