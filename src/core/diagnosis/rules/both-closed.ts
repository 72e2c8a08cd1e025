// The states of the network into a finding: both throws are closed.
import { stateOf } from '../../model/samples.ts'
import { type Rule, sight } from '../rule.ts'

export const bothClosed: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const isBoth = (row: number) => stateOf(c.contact.of.state[row]) === 'both'
  const both = c.contact.where((row) => isBoth(row) && isBoth(row - 1))
  const first = both.at(0)
  if (!first) return []
  const text =
    'NO and NC are closed together: bridged, welded or wet contacts. Look for a bridge between the tabs; if there is none reject the switch.'
  return [sight('fail', first.tUs, text, { readings: both.length + 1 })]
}
