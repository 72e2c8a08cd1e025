// The states of the network into a finding: its leads are off or shorted at times.
import { criteria } from '../../criteria.table.ts'
import { type ContactState, stateOf } from '../../model/samples.ts'
import { type Rule, sight } from '../rule.ts'

export const leadOff: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const rowsIn = (...sought: ContactState[]) => c.contact.where((i) => sought.includes(stateOf(c.contact.of.state[i])))
  const off = rowsIn('lead-off', 'shorted')
  const first = off.at(0)
  if (!first) return []
  const enough = c.cycles.filter((cycle) => cycle.used).length >= criteria.fewestCycles
  // A lead that is off lets nothing through; what shorts the block may be the switch.
  const shorted = rowsIn('shorted').length > 0
  const what = shorted ? 'are shorted' : 'are off'
  const text = `At times the leads of the network ${what}: those cycles do not count. Fasten the clips and repeat what is missing.`
  return [
    sight(enough && !shorted ? 'note' : 'undecided', first.tUs, text, {
      readings: off.length,
      state: shorted ? 'shorted' : 'lead-off',
    }),
  ]
}
