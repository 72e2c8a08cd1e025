// The date of the meter's certificate into a finding: the test is later, so that its ohms are not assessed.
import { isOverdue } from '../../model/setup.ts'
import { type Rule, sight } from '../rule.ts'

/** Where the part has a limit in ohm nothing is assessed at all, and the verdict says why. */
export const meterOverdue: Rule = (c) => {
  const { meterDue } = c.setup.rig
  if (!isOverdue(c.setup, meterDue) || c.setup.rating.maxOhm !== null) return []
  const text = `The meter's certificate was valid until ${meterDue}: the resistance of the contact is not assessed. Have the meter calibrated.`
  return [sight('note', 0, text, { due: meterDue })]
}
