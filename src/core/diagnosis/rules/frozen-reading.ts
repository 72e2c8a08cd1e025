// Held displays into a finding: the reading did not follow the pressure.
import { type Rule, sight } from '../rule.ts'

export const frozenReading: Rule = (c) => {
  const frozen = c.cycles.filter((cycle) => cycle.why === 'frozen')
  // A second manometer that is held is silent: a finding of its own.
  const ports = c.run.ports.filter(({ name }) => name !== 'manometer-2')
  const held = ports.reduce((sum, p) => sum + (p.faultCounts['held'] ?? 0), 0)
  if (frozen.length === 0 && held === 0) return []
  return [
    sight(
      'void',
      frozen[0]?.span.startUs ?? c.run.tUs,
      held > 0
        ? 'An instrument shows a held, minimum, maximum or relative value. Switch that function off and start again.'
        : 'The display stood still while the pressure changed. Switch hold off, check the batteries, and start again.',
      { strokes: frozen.length, heldLines: held },
    ),
  ]
}
