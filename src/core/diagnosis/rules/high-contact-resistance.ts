// The closures of the contact into a finding: their resistance is too high.
import { criteria } from '../../criteria.table.ts'
import { figuresText } from '../../text/figures-text.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Rule, sight } from '../rule.ts'
import { contactFilm } from './contact-film.ts'

/** With a limit only what fails it: inside the guard the limit says undecided. Without one a note. */
export const highContactResistance: Rule = (c) => {
  const { medianOhm, closuresOhm } = c.resistance
  const { maxOhm } = c.setup.rating
  const limit = maxOhm ?? criteria.doubtfulOhm
  if (medianOhm === null || closuresOhm.length < criteria.closures) return []
  const worstOhm = Math.max(...closuresOhm)
  const typical = medianOhm > limit
  const high = maxOhm === null ? typical : outcomeOf(c, 'contact') === 'fail'
  // Closures that begin high and fall are the film's finding.
  if (!high || (!typical && contactFilm(c).length > 0)) return []
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
