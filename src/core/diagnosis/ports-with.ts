// The ports of a run into those of which a share of the lines is bad, with how many.
import { criteria } from '../criteria.table.ts'
import type { PortName } from '../model/rig.ts'
import type { Quality } from '../signal/quality.ts'
import type { Case } from './rule.ts'

/** Ports that have more than `share` of bad lines. A port of which nothing can be read is another finding. */
export function portsWith(
  { quality }: Case,
  badOf: (quality: Quality) => number,
  share: number,
): { port: PortName; bad: number; lines: number }[] {
  return Object.entries(quality).flatMap(([name, of]) => {
    const [bad, lines] = [badOf(of), of.lines]
    const told = bad >= criteria.qualityLines && bad > share * lines && bad < lines
    return told ? [{ port: name as PortName, bad, lines }] : []
  })
}
