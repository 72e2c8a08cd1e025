// A recording under way into the bench screen with a bar for its time: paused, faster, slower, jumped about in.

import type { Part } from '../../core/model/part.ts'
import type { Live } from '../../core/view/live.ts'
import type { Size } from '../panels/layout.ts'
import { initialScreen } from '../panels/screen-state.ts'
import type { Region } from '../panels/shown.ts'
import type { TraceDots } from '../panels/trace.ts'
import { viewOf } from '../panels/view.ts'
import { clipLine, type Line, lineWidth, span } from '../text/line.ts'
import { clockText } from '../text/words.ts'
import { frame, roomOf } from './frame.ts'
import type { Screen, ScreenKey } from './screen.ts'

export type PlayerState = {
  /** Where in the recording, s; 0 to `endS`. */
  atS: number
  endS: number
  playing: boolean
  /** Seconds of the recording a second. */
  speed: number
  /** What is shown of the run at `atS`; null before its start was read. */
  live: Live | null
}

export type PlayerSpec = {
  part: Part
  title: string
  simulated: boolean
  dots: TraceDots
  calm: boolean
  /** What the recording is looked at for; it decides the keys besides those for time. */
  own: readonly ScreenKey<PlayerState, PlayerAsk>[]
}
export type PlayerAsk = 'back' | 'budget' | 'curve' | 'print' | 'report' | 'print-report' | 'tag' | 'name'

const speeds = [1, 2, 5, 10, 20, 50, 100] as const
const jumpS = 10
const leapS = 60

/** At the beginning of a recording of `endS` seconds. */
export const playerState = (endS: number, speed: number): PlayerState => ({
  ...{ atS: 0, endS, playing: true, speed, live: null },
})

/** The state `passedS` later, by the clock on the wall; it stops at the end. */
export function advance(state: PlayerState, passedS: number): PlayerState {
  if (!state.playing) return state
  const atS = Math.min(state.endS, state.atS + passedS * state.speed)
  return { ...state, atS, playing: atS < state.endS }
}

/** Keys of a recording that is looked at for its own sake. */
export const recordingKeys: PlayerSpec['own'] = [
  {
    keys: ['b'],
    shown: 'b',
    short: 'budget',
    does: 'The uncertainty budget of the whole recording.',
    act: (state) => ({ state, ask: 'budget' }),
  },
  {
    keys: ['c'],
    shown: 'c',
    short: 'curve',
    does: 'Write the trip-point curve as SVG and CSV beside the recording.',
    act: (state) => ({ state, ask: 'curve' }),
  },
  {
    keys: ['p'],
    shown: 'p',
    short: 'print',
    does: 'Print the trip-point curve.',
    act: (state) => ({ state, ask: 'print' }),
  },
  {
    keys: ['w'],
    shown: 'w',
    short: 'report',
    does: 'Write the test report as PDF beside the recording.',
    act: (state) => ({ state, ask: 'report' }),
  },
  {
    keys: ['l'],
    shown: 'l',
    short: 'print report',
    does: 'Write the test report and print it.',
    act: (state) => ({ state, ask: 'print-report' }),
  },
  {
    keys: ['t'],
    shown: 't',
    short: 'tag',
    does: 'Write the tag of the part as PDF beside the recording.',
    act: (state) => ({ state, ask: 'tag' }),
  },
]

/** Keys of a recording whose fault is to be named. */
export const lessonKeys: PlayerSpec['own'] = [
  {
    keys: ['n'],
    shown: 'n',
    short: 'name the fault',
    does: 'Say what is wrong with this bench, from a list.',
    act: (state) => ({ state, ask: 'name' }),
  },
]

/** The screen of a recording; what it shows at each time is put into `live` by whoever opened it. */
export function createPlayer(spec: PlayerSpec): Screen<PlayerState, PlayerAsk> {
  const jump = (by: number) => (state: PlayerState) => ({
    state: { ...state, atS: Math.max(0, Math.min(state.endS, state.atS + by)) },
  })
  const pace = (by: 1 | -1) => (state: PlayerState) => {
    const speed = by > 0 ? speeds.find((s) => s > state.speed) : speeds.findLast((s) => s < state.speed)
    return { state: { ...state, speed: speed ?? state.speed } }
  }
  const fastest = ({ speed }: PlayerState) => (speed < speeds.at(-1)! ? null : 'it is the fastest there is')
  const slowest = ({ speed }: PlayerState) => (speed > speeds[0] ? null : 'it is the slowest there is')
  return {
    keys: [
      {
        keys: [' '],
        shown: 'Space',
        short: 'pause',
        does: 'Stop there, or go on; at the end: from the beginning again.',
        act: (state) => ({
          state: { ...state, playing: !state.playing, atS: !state.playing && state.atS >= state.endS ? 0 : state.atS },
        }),
      },
      { keys: ['left'], shown: '←', short: 'back', does: `${jumpS} s back.`, act: jump(-jumpS) },
      { keys: ['right'], shown: '→', short: 'on', does: `${jumpS} s on.`, act: jump(jumpS) },
      {
        keys: ['up', '+'],
        shown: '↑',
        short: 'faster',
        does: `Faster, up to ×${speeds.at(-1)}.`,
        blocked: fastest,
        act: pace(1),
      },
      {
        keys: ['down', '-'],
        shown: '↓',
        short: 'slower',
        does: `Slower, down to ×${speeds[0]}.`,
        blocked: slowest,
        act: pace(-1),
      },
      ...spec.own,
      {
        keys: ['escape', 'q', 'enter'],
        shown: 'Esc',
        short: 'leave',
        does: 'Leave the recording.',
        leaves: true,
        act: (state) => ({ state, ask: 'back' }),
      },
      {
        keys: ['page-up'],
        quiet: true,
        shown: 'PgUp',
        short: 'minute back',
        does: `${leapS} s back.`,
        act: jump(-leapS),
      },
      { keys: ['page-down'], quiet: true, shown: 'PgDn', short: 'minute on', does: `${leapS} s on.`, act: jump(leapS) },
      { keys: ['home'], quiet: true, shown: 'Home', short: 'start', does: 'To the beginning.', act: jump(-Infinity) },
      {
        keys: ['end'],
        quiet: true,
        shown: 'End',
        short: 'end',
        does: 'To the end, with the verdict.',
        act: jump(Infinity),
      },
    ],
    view: (state, size, foot) => draw(spec, state, size, foot),
  }
}

function draw(
  { part, title, simulated, dots, calm }: PlayerSpec,
  state: PlayerState,
  size: Size,
  foot: Line,
): Region[] {
  // Told in lines: where it is in words; the rest is told as it happens by whoever plays it.
  if (calm) {
    const at = `${state.playing ? 'plays' : 'stopped'} at ${clockText(state.atS)} of ${clockText(state.endS)}, times ${state.speed}`
    return frame(size, title, '', [...(simulated ? [[span('Simulated bench.')]] : []), [span(at)]], foot)
  }
  const { all } = roomOf(size)
  const bar: Region = {
    rect: { x: 0, y: all.height - 1, width: all.width, height: 1 },
    lines: [barLine(state, all.width)],
  }
  const above = viewOf({
    ...{ live: state.live, part, title, simulated, dots, calm, foot },
    ...{ size: { columns: size.columns, rows: size.rows - 1 }, screen: initialScreen, marks: false, ends: false },
  })
  return all.height < 3 ? [bar] : [...above, bar]
}

/** `▶ ×20  2:04 ━━━━●──── 9:03`. */
export function barLine({ atS, endS, playing, speed }: PlayerState, width: number): Line {
  const left = span(` ${playing ? '▶' : '‖'} ×${speed}  ${clockText(atS)} `, 'strong')
  const right = span(` ${clockText(endS)} `, 'dim')
  const cells = Math.max(0, width - lineWidth([left, right]))
  const at = endS > 0 ? Math.min(cells - 1, Math.floor((atS / endS) * cells)) : 0
  if (cells < 4) return clipLine([left, right], width)
  return [left, span('━'.repeat(at), 'accent'), span('●', 'strong'), span('─'.repeat(cells - at - 1), 'dim'), right]
}
