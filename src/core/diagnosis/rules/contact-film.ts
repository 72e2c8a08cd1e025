// The closures of the contact into a finding: their resistance falls with use.
import { criteria } from '../../criteria.table.ts'
import { figuresText } from '../../text/figures-text.ts'
import { type Rule, sight } from '../rule.ts'

export const contactFilm: Rule = (c) => {
  const { closuresOhm } = c.resistance
  const first = closuresOhm[0]
  const last = closuresOhm.at(-1)
  if (first === undefined || last === undefined || closuresOhm.length <= 1) return []
  if (!(first > criteria.filmRatio * last && first > criteria.filmOhm)) return []
  return [
    sight(
      c.setup.rating.maxOhm === null ? 'note' : 'fail',
      c.run.tUs,
      `The contact resistance fell from ${figuresText(first, 2)} Ω to ${figuresText(last, 2)} Ω with use: a film on the contact. Reject the switch for logic-level inputs.`,
      { firstOhm: first, lastOhm: last, closures: closuresOhm.length },
    ),
  ]
}
