// A second manometer that was lost, silent, past its date, beyond its scale or at an unknown place into a finding: it proves nothing of the line.
import { criteria } from '../../criteria.table.ts'
import type { Unproving } from '../../signal/switch-end.ts'
import type { Unstated } from '../../uncertainty/unstated-at.ts'
import { type Rule, sight } from '../rule.ts'

const sentences: Readonly<Record<Unproving, string>> = {
  'nothing-read':
    'Nothing readable came from the second manometer. Check that it is on, its lead, and the baud rate and driver in the rig.',
  overdue: 'The certificate of the second manometer is past its date. Have it calibrated.',
  'no-zero': 'The second manometer was never seen at rest. Vent for 10 s before the first stroke.',
  'unit-changed': 'The second manometer changed its unit in mid-test. Set the unit back and lock it.',
  lost: 'The second manometer was lost in mid-test. See to its cable and plug.',
  silent: 'The second manometer went silent in mid-test. Look for a held display, a flat battery or a loose lead.',
}

/** A note: what the first manometer decides alone it still does. */
export const secondProvesNothing: Rule = ({ switchEnd, run, lineProof }) => {
  const ended = switchEnd?.ended
  const unstated = lineProof?.unstated ?? null
  if (unstated !== null && !ended) return [sight('note', run.tUs, beyond[unstated], { why: unstated })]
  if (switchEnd && !ended && !switchEnd.placed && run.end !== null)
    return [sight('note', run.tUs, unplaced, { why: 'not-pinched' })]
  // An instrument has a while to begin.
  if (!ended || (run.end === null && run.tUs < criteria.deafUs)) return []
  const tUs = Number.isFinite(ended.tUs) ? ended.tUs : 0
  const text = `${sentences[ended.why]} ${tUs > 0 ? 'From there on' : 'As it is'} it proves nothing of the line.`
  return [sight('note', tUs, text, { why: ended.why, atS: tUs / 1e6 })]
}

const beyond: Readonly<Record<Unstated, string>> = {
  'outside-scale':
    'A trip lies beyond the full scale of the second manometer, so it proves nothing of the line. Use one with a wider range.',
  'outside-certificate':
    "A trip lies outside the points of the second manometer's certificate, so it proves nothing of the line. Have it calibrated there too.",
}

const unplaced =
  'Nothing shows that the second manometer sits at the switch, so it proves nothing of the line. Pinch the hose that feeds both, right beside them and never its own branch, ' +
  `draw to a quarter of the rated point for ${criteria.pinchUs / 1e6} s, and see that it stays at zero.`
