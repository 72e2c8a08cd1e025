// Instruments on each other's ports into a finding: each sends what the other should.
import { deafPorts, wrongQuantities } from '../deaf-ports.ts'
import { type Rule, sight } from '../rule.ts'

export const portsSwapped: Rule = (c) => {
  const swapped = deafPorts(c).filter((p) => wrongQuantities(p) > 0)
  if (swapped.length === 0) return []
  const ports = swapped.map((p) => p.name)
  const text = `The ${ports.join(' and the ')} ${ports.length > 1 ? 'ports send' : 'port sends'} the other kind of reading. Exchange the two port paths in the rig, and start again.`
  const lines = swapped.reduce((sum, p) => sum + wrongQuantities(p), 0)
  return [sight('void', c.run.tUs, text, { ports: ports.join(','), lines })]
}
