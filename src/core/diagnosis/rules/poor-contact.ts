// Readings between closed and open into a finding: the contact conducts poorly while it should be closed.
import { criteria } from '../../criteria.table.ts'
import { type Rule, sight } from '../rule.ts'

/** Two readings in a row are the contact; one alone may be the meter. */
export const poorContact: Rule = (c) => {
  const { closures, poor, readings, firstUs } = c.resistance.poor
  if (firstUs === null) return []
  const { closedBelowOhm, openAboveOhm } = c.setup.rig
  const evidence = { poor, closures, readings, closedBelowOhm, openAboveOhm }
  const range = `between ${closedBelowOhm} and ${openAboveOhm} Ω`
  if (poor === 0)
    return [sight('note', firstUs, `A single reading of the closed contact lies ${range}. Check the clips.`, evidence)]
  const rejected = poor > criteria.poorShare * closures
  const advice = rejected
    ? 'Reject the switch for signal circuits.'
    : 'Check the clips and repeat; if it happens again reject the switch for signal circuits.'
  const text = `The contact stayed ${range}, neither closed nor open, in ${poor} of ${closures} closures. ${advice}`
  return [sight(rejected ? 'fail' : 'undecided', firstUs, text, evidence)]
}
