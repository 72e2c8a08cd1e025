// The ports of a run into those of which a share of the lines is bad, with how many, and how grave that is.
import { criteria } from '../criteria.table.ts'
import type { FindingEffect } from '../model/result.ts'
import type { PortName } from '../model/rig.ts'
import type { Quality } from '../signal/quality.ts'
import { portText } from '../text/port-text.ts'
import type { Case } from './rule.ts'

/**
 * Ports that have more than `share` of bad lines: undecided with more than `mostShare`, but of a second manometer, without which the
 * first decides as well. A port of which nothing can be read is another finding.
 */
export function portsWith(
  { quality }: Case,
  badOf: (quality: Quality) => number,
  share: number,
  mostShare: number,
): { port: PortName; name: string; bad: number; lines: number; effect: FindingEffect }[] {
  return Object.entries(quality).flatMap(([name, of]) => {
    const [bad, lines] = [badOf(of), of.lines]
    const told = bad >= criteria.qualityLines && bad > share * lines && bad < lines
    const port = name as PortName
    const effect = port !== 'manometer-2' && bad > mostShare * lines ? 'undecided' : 'note'
    return told ? [{ port, name: portText(port), bad, lines, effect }] : []
  })
}
