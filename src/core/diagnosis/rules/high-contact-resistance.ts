// The closures of the contact into a finding: their resistance is too high, on the whole or for a while.
import { criteria } from '../../criteria.table.ts'
import { figuresText } from '../../text/figures-text.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Case, type Rule, type Sight, sight } from '../rule.ts'
import { contactFilm } from './contact-film.ts'
import { poorContact } from './poor-contact.ts'

/** With a limit only what fails it, and what stays above it for a while; inside the guard the limit says undecided. Without one a note. */
export const highContactResistance: Rule = (c) => {
  const { medianOhm, closuresOhm } = c.resistance
  const { maxOhm } = c.setup.rating
  const limit = maxOhm ?? criteria.doubtfulOhm
  const outcome = outcomeOf(c, 'contact')
  const worstOhm = Math.max(...closuresOhm)
  const typical = medianOhm !== null && medianOhm > limit
  // Closures that begin high and fall are the film's finding.
  if (!typical && contactFilm(c).length > 0) return []
  const whole = typical || worstOhm > limit
  const high = maxOhm === null ? typical : whole && outcome === 'fail'
  if (!high) return maxOhm === null ? [] : forAWhile(c, maxOhm)
  if (closuresOhm.length < criteria.closures) return []
  const what = typical
    ? `The closed contact measures ${figuresText(medianOhm, 2)} Ω`
    : `In one closure the contact measures ${figuresText(worstOhm, 2)} Ω`
  return [
    sight(
      maxOhm === null ? 'note' : 'fail',
      c.run.tUs,
      `${what}, more than ${limit} Ω. Null the leads and repeat; if it stays reject the switch for signal circuits.`,
      { medianOhm, worstOhm, limitOhm: limit, closures: closuresOhm.length },
    ),
  ]
}

/** What the median of a closure hides. Where it went beyond closed as well, that is told instead. */
function forAWhile(c: Case, limitOhm: number): Sight[] {
  const { highContact } = c
  if (highContact === null || outcomeOf(c, 'contact') === 'not-assessed') return []
  if (highContact.outcome === 'pass') return []
  if (poorContact(c).some((s) => s.effect === 'fail' || s.effect === highContact.outcome)) return []
  const { found, outcome } = highContact
  const { closures, high, settling, longest, readings, above, worstOhm, firstUs } = found
  if (worstOhm === null || firstUs === null) return []
  const value = `above ${limitOhm} Ω, up to ${figuresText(worstOhm, 2)} Ω`
  const what =
    longest === null
      ? `${above} of ${readings} readings of the closed contact lie ${value}.`
      : `In ${high} of ${closures} closures the contact stayed ${value}, for ${longest.readings} readings in a row or ${longest.forS.toFixed(1)} s at the longest.`
  const early = high > 0 && settling === high
  const advice =
    outcome === 'fail'
      ? 'Check the clips and repeat; if it stays reject the switch for signal circuits.'
      : early
        ? 'Each time it did so just after it closed: fix the range of the meter by hand and repeat; if it comes again reject the switch for signal circuits.'
        : 'Check the clips and repeat; if it comes again reject the switch for signal circuits.'
  const evidence = { limitOhm, worstOhm, high, settling, closures, above, readings, longestS: longest?.forS ?? null }
  return [sight(outcome, firstUs, `${what} ${advice}`, evidence)]
}
