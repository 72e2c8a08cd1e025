// The states of the network into a finding: its leads are off or shorted at times, or NC is never seen.
import { criteria } from '../../criteria.table.ts'
import { type ContactState, stateOf } from '../../model/samples.ts'
import { type Case, hasTransition, type Rule, type Sight, sight } from '../rule.ts'

export const leadOff: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const rowsIn = (...sought: ContactState[]) => c.contact.where((i) => sought.includes(stateOf(c.contact.of.state[i])))
  const off = rowsIn('lead-off', 'shorted')
  const first = off.at(0)
  if (!first) return ncNeverSeen(c)
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

/** NO acts and NC never closes: its lead, or the part. Whoever uses NO may go on; of a blockage switch it is the contact that counts. */
function ncNeverSeen(c: Case): Sight[] {
  const { contact, cycles, setup } = c
  const rowsOf = (...sought: ContactState[]) => contact.where((i) => sought.includes(stateOf(contact.of.state[i])))
  const rest = rowsOf('neither')
  const first = rest.at(0)
  if (!first || !hasTransition(c) || rowsOf('nc-closed', 'both').length > 0) return []
  const isUsed = setup.rating.kind === 'blockage'
  const text = `NC was never closed at rest, in ${cycles.length} strokes: its lead is off, or the NC contact is dead. Fasten the lead and repeat; if it stays ${isUsed ? 'reject the switch' : 'do not use NC'}.`
  return [sight(isUsed ? 'undecided' : 'note', first.tUs, text, { readings: rest.length, state: 'neither' })]
}
