// Lines that an instrument marked with a low battery into a finding: what it showed before cannot be trusted either.
import { type Rule, sight } from '../rule.ts'

export const lowBattery: Rule = (c) =>
  c.run.ports.flatMap(({ name, faultCounts }) => {
    const lines = faultCounts['low-battery'] ?? 0
    if (lines === 0) return []
    const text = `The ${name} says that its battery is low, and shows anything then. Change its batteries and start again.`
    return [sight('void', c.run.tUs, text, { port: name, lines })]
  })
