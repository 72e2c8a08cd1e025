// Step, stroke, pace and trouble into one action word and one sentence for the hands.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import { last, toArray } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { stepRow } from '../plan/test-steps.table.ts'
import { pressureText } from '../text/pressure-text.ts'
import { absentPorts, absentText } from './absent-ports.ts'
import type { Course } from './course.ts'
import type { Guide } from './guidance.ts'
import type { StrokeNow } from './stroke-now.ts'
import type { Trouble } from './trouble.ts'

export type Doing = Pick<Guide, 'action' | 'sentence'>

type Seen = {
  run: Run
  setup: Setup
  assessment: Assessment
  course: Course
  stroke: StrokeNow | null
  pressurePa: number | null
  /** The pace of a faster stroke, where one is asked for. */
  briskPaPerS: number | null
  pace: NonNullable<Guide['rate']>['pace']
  /** Too fast for the trip that comes within moments. */
  soon: boolean
  trouble: Trouble | null
  asks: boolean
}

/** What the hands do now. */
export function doingOf(seen: Seen): Doing {
  const { run, setup, course, stroke, pressurePa, trouble } = seen
  if (run.end !== null) return { action: 'done', sentence: 'The test has ended.' }
  const absent = absentPorts(run)
  if (absent.length > 0) return { action: 'lost', sentence: absentText(absent, run, goesOnWith(course)) }
  if (pressurePa === null)
    return { action: 'wait', sentence: 'Waiting for the instruments. Switch them on and check their leads.' }
  const { ratedPa } = setup.rating
  if (pressurePa > criteria.twiceRated * ratedPa)
    return { action: 'stop', sentence: 'Twice the rated point: stop, and let down slowly.' }
  if (trouble?.stops) return { action: 'stop', sentence: trouble.text }
  if (stroke !== null && course.step === 'cautions')
    return { action: 'vent', sentence: 'This stroke does not count: vent, read the cautions, then press Enter.' }
  const again = whyAgain(run)
  if (stroke !== null && again !== null)
    return {
      action: 'vent',
      sentence: `${again} Vent, then go on with ${goesOnWith(course)}: draw this stroke again.`,
    }
  if (course.step === 'pinch' && run.tracker.current !== null) return inPinch(seen)
  if (stroke !== null) return inStroke(seen, stroke)
  return atRest(course, seen)
}

/** The step at hand as it is read in a sentence. */
const goesOnWith = ({ step }: Course) => `the ${step.replaceAll('-', ' ')}`

/** Why not all of the stroke in progress was seen, as a sentence: the machine slept or a link broke in it; null where neither did. */
function whyAgain({ tracker, linkBreaks, sleeps }: Run): string | null {
  const { current } = tracker
  if (current === null) return null
  const slept = last(sleeps)
  if (slept !== undefined && slept.toUs >= current.startUs)
    return 'The computer slept in this stroke, so it does not count.'
  const broken = toArray(linkBreaks).findLast(({ port }) => port !== 'manometer-2')
  return broken !== undefined && broken.tUs >= current.startUs ? `The ${broken.port} is back.` : null
}

/** The tee is drawn while the hose beside the switch is pinched. */
function inPinch({ course }: Seen): Doing {
  const { longestS, nowS } = course.pinch ?? { longestS: 0, nowS: 0 }
  if (nowS > 0 && longestS >= criteria.pinchUs / 1e6)
    return { action: 'vent', sentence: 'It sits at the switch. Vent, then let go of the hose.' }
  if (nowS > 0) return { action: 'hold', sentence: 'Keep it pinched, and leave the plunger where it is.' }
  return {
    action: 'vent',
    sentence:
      'The second manometer follows: let go, vent, and pinch the hose that feeds it and the switch, right beside them.',
  }
}

function inStroke({ course, setup, pace, soon, pressurePa, briskPaPerS }: Seen, stroke: StrokeNow): Doing {
  const at = (pa: number) => pressureText(pa, setup.rating.unit)
  if (stroke.reversed)
    return {
      action: 'stop',
      sentence: 'Stop, this cycle is void: reversed at the trip. Vent, then draw again without turning back.',
    }
  if (stroke.leg === 'too-high')
    return { action: 'let-down', sentence: 'No trip where there should long have been one. Let down slowly and vent.' }
  if (stroke.justReleased)
    return { action: 'let-down', sentence: 'Switch released. Keep this pace for a moment more, then vent.' }
  if (stroke.leg === 'out') return { action: 'vent', sentence: 'Switch released: vent to the room.' }
  if (course.step === 'hold' && stroke.leg !== 'to-make') {
    const { ratedPa } = setup.rating
    const { holdS, holdFromShare, holdToShare } = criteria
    const inside = (pressurePa ?? 0) >= holdFromShare * ratedPa && (pressurePa ?? 0) <= holdToShare * ratedPa
    if (inside && course.held.longestS < holdS)
      return { action: 'hold', sentence: `Leave the plunger where it is for ${holdS} s. Do not top it up.` }
  }
  if (stroke.leg === 'to-peak')
    return { action: 'draw', sentence: `Switch made. Draw on to ${at(stroke.targetPa)}, then let down.` }
  const up = stroke.leg === 'to-make'
  const how = briskPaPerS === null ? 'slowly and evenly' : `faster, at ${rateText(briskPaPerS, setup)},`
  const action = paceAction(stroke, pace, soon) ?? (up ? 'draw' : 'let-down')
  if (up) return { action, sentence: `Draw ${how} through the make near ${at(stroke.targetPa)}; never turn back.` }
  return { action, sentence: `Let down ${how} through the break near ${at(stroke.targetPa)}; never turn back.` }
}

/** A pace in two figures: finer, no hand keeps it. */
const rateText = (paPerS: number, { rating }: Setup) => pressureText(paPerS, rating.unit, { figures: 2 }, '/s')

/** The word for a pace that is not right; the sentence stays, so that it can be read. */
function paceAction(stroke: StrokeNow, pace: Seen['pace'], soon: boolean): 'slower' | 'faster' | null {
  if (stroke.nearTrip ? pace === 'too-fast' : soon) return 'slower'
  return stroke.nearTrip && (pace === 'too-slow' || pace === 'still') ? 'faster' : null
}

function atRest(course: Course, { setup, pressurePa, run, asks, briskPaPerS, assessment }: Seen): Doing {
  const draws = (sentence: string): Doing => ({ action: 'draw', sentence })
  const { used, wanted, extra } = course
  const endedUs = run.strokes.items[run.strokes.length - 1]?.endUs ?? Number.NEGATIVE_INFINITY
  const strokeNext = stepRow(course.step).ends === 'strokes' && course.step !== 'first-stroke'
  if (strokeNext && run.tUs - endedUs < criteria.betweenStrokesS * 1e6) {
    // A turn just before a trip looks like its kick until the whole stroke is judged.
    const turned = assessment?.analysis.cycles.at(-1)?.why === 'reversal'
    const told = turned ? 'The last stroke is void: reversed at the trip. ' : ''
    return { action: 'vent', sentence: `${told}Leave it vented for some seconds.` }
  }
  const missing = Math.max(0, wanted - used)
  const offset = Math.abs(run.pressure.at(-1)?.rawPa ?? 0) > criteria.offsetShare * setup.rating.ratedPa
  switch (course.step) {
    case 'cautions':
      return {
        action: 'read',
        sentence: asks
          ? 'Read the cautions; Enter says you have. Leave both ports open meanwhile: strokes before that do not count.'
          : 'Leave both ports open: the zero is being taken.',
      }
    case 'zero':
      if (!run.tracker.rested)
        return {
          action: 'vent',
          sentence: `It shows ${pressureText(pressurePa ?? 0, setup.rating.unit)} already: let down and open both ports. The zero comes before the first stroke.`,
        }
      if (offset && course.ventedSinceUs !== null && run.tUs - course.ventedSinceUs > criteria.notDrawnUs)
        return {
          action: 'wait',
          sentence: `It shows ${pressureText(pressurePa ?? 0, setup.rating.unit)} with nothing drawn: open both ports, drain the hose, zero the manometer.`,
        }
      return {
        action: 'wait',
        sentence: `Leave both ports open and keep still for ${criteria.zeroS} s: the zero is being taken.`,
      }
    case 'first-stroke':
      return draws(
        'Draw the first stroke after rest: slowly through the make, on to a quarter above, and as slowly down.',
      )
    case 'precondition':
      return draws('Draw the next stroke to the same peak. These do not count: they settle the diaphragm.')
    case 'cycles':
      if (extra > 0)
        return draws(
          `Undecided so far: ${missing} more ${missing === 1 ? 'cycle' : 'cycles'} would settle it. Draw the next slowly.`,
        )
      return draws(
        `Draw the next stroke slowly: ${missing} more ${missing === 1 ? 'cycle has' : 'cycles have'} to count.`,
      )
    case 'fast-cycles':
      return draws(
        `Draw this stroke faster: ${rateText(briskPaPerS ?? 0, setup)}, up and down. Two such strokes show a hose that delays the switch.`,
      )
    case 'hold':
      return draws(
        `Draw to ${pressureText(criteria.holdShare * setup.rating.ratedPa, setup.rating.unit)} and leave the plunger there for ${criteria.holdS} s. What falls off shows a leak: do not top it up.`,
      )
    case 'pinch': {
      const at = pressureText(criteria.pinchShare * setup.rating.ratedPa, setup.rating.unit)
      return draws(
        `Pinch the hose that feeds both the switch and the second manometer, right beside them (never that manometer's own branch), and draw to ${at} for ${criteria.pinchUs / 1e6} s: it must stay at zero. Then vent and let go.`,
      )
    }
    case 'closing-zero':
      return {
        action: course.ventedSinceUs === null ? 'vent' : 'wait',
        sentence: course.hopeless
          ? `More cycles would not settle it. Leave both ports open for ${criteria.zeroS} s: the closing zero, then the verdict.`
          : `Enough. Leave both ports open for ${criteria.zeroS} s: the closing zero, then the verdict.`,
      }
    case 'verdict':
      return { action: 'done', sentence: 'All is measured: the verdict follows.' }
  }
}
