// The first stroke into what is wrong with leads, port or sign, in a sentence with what to move.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { isActuated, type Pair } from '../model/pair.ts'
import { stateOf } from '../model/samples.ts'
import type { Setup } from '../model/setup.ts'
import { pressureText } from '../text/pressure-text.ts'
import type { StrokeNow } from './stroke-now.ts'

/** What is wrong, and whether the test cannot go on with it. */
export type Trouble = { text: string; stops: boolean }

/** What is wrong now; null where nothing is. */
export function troubleOf(
  run: Run,
  setup: Setup,
  assessment: Assessment,
  stroke: StrokeNow | null,
  pressurePa: number,
): Trouble | null {
  const { rating, rig } = setup
  const told = assessment?.result.findings.find((f) => f.effect === 'void' && f.code !== 'zero-moved')
  if (told) return { text: told.text, stops: true }
  if (run.strokes.length === 0 && pressurePa < -criteria.wrongWayShare * rating.ratedPa) return wrongWay(run, setup)
  const first = run.strokes.length <= 1
  if (first && stroke?.inverted) return { text: otherPair(rig.pair), stops: true }
  if (assessment?.movedOnly)
    return {
      text: 'Moved, but no contact: the mechanism kicked and the contact never changed. See that one lead is on COM and the other on the terminal that is meant; if they are, draw once more.',
      stops: true,
    }
  // Before the first stroke a contact that is closed at rest may as well be the other pair.
  const begun = run.strokes.length > 0 || stroke?.leg === 'too-high'
  const stuck = begun && assessment?.result.findings.find((f) => f.code === 'stuck-closed' || f.code === 'never-makes')
  if (stuck) return { text: stuck.text, stops: true }
  if (assessment && run.strokes.length === 1 && stroke === null && assessment.analysis.edges.length === 0) {
    const peakPa = run.strokes.items[0]!.peakPa
    return {
      text: `No trip up to ${pressureText(peakPa, rating.unit)}, and no kick: look at port, hose and leads, then draw higher, to twice the rated point at most.`,
      stops: true,
    }
  }
  const closed = isActuated(stateOf(run.contact.at(-1)?.state), rig.pair) === true
  if (run.strokes.length === 0 && stroke === null && closed && rig.pair === 'com-no')
    return {
      text: 'The contact is closed at rest: a lead on NC, or a switch that is stuck. The first stroke tells which.',
      stops: false,
    }
  return null
}

function wrongWay(run: Run, { rig }: Setup): Trouble {
  const tripped = isActuated(stateOf(run.contact.at(-1)?.state), rig.pair) === true
  const what = tripped ? 'It has tripped, and the pressure shown goes the wrong way' : 'The pressure goes the wrong way'
  return {
    text: `${what}. Was suction drawn? Then correct the sign of the manometer in the rig; if not, move the hose to the other port. End this test with q and start again.`,
    stops: true,
  }
}

function otherPair(pair: Pair): string {
  if (pair === 'com-nc')
    return 'Contact closes as pressure rises: the leads sit on COM and NO. Move the lead from NO to NC, end this test with q and start again.'
  return 'Contact opens as pressure rises: the leads sit on COM and NC. Move the lead from NC to NO, end this test with q and start again.'
}
