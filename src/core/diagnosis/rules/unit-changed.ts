// The unit on the lines of the manometer into a finding: it changed while the test went on.
import { type Rule, sight } from '../rule.ts'

export const unitChanged: Rule = (c) => {
  const tUs = c.streams.unitChangedUs
  if (tUs === null) return []
  return [
    sight(
      'void',
      tUs,
      'The manometer changed its unit in mid-test: the text on its lines, or all pressures by the ratio of two units. Set the unit back, lock it, and start again.',
      {
        atS: tUs / 1e6,
      },
    ),
  ]
}
