// The states of the network into a finding: both throws are closed.
import { type Rule, sight } from '../rule.ts'

export const bothClosed: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const both = c.contact.filter((s, i) => s.state === 'both' && c.contact[i - 1]?.state === 'both')
  const first = both[0]
  if (!first) return []
  const text =
    'NO and NC are closed together: bridged, welded or wet contacts. Look for a bridge between the tabs; if there is none reject the switch.'
  return [sight('fail', first.tUs, text, { readings: both.length + 1 })]
}
