// What the instruments of a rig send, as it comes, beside what is read from it, and what that proves of the manometer.
import type { RigCheck } from '../../core/rig-check.ts'
import { type PressureUnit, pressureUnits } from '../../core/units.ts'
import type { Size } from '../layout.ts'
import { type Line, line, span, wrapLine } from '../line.ts'
import { cleanText, padText } from '../text.ts'
import { linkWords } from '../words.ts'
import { frame, roomOf } from './frame.ts'
import type { Screen } from './screen.ts'

/** One piece that came, as text, and what the driver made of it. */
export type Heard = { raw: string; read: string; bad: boolean }
export type PortView = {
  name: string
  /** Path and baud rate. */
  where: string
  link: 'waiting' | 'open' | 'lost'
  readingsPerS: number | null
  faults: number
  /** The newest last. */
  heard: readonly Heard[]
}
export type RigViewState = {
  ports: readonly PortView[]
  check: RigCheck
  /** Unit that the manometer is read in. */
  unit: string
  digitPa: number
}
export type RigViewAsk = 'back' | 'take' | 'again'

/** The screen; `title` names the rig. */
export function createRigView(title: string): Screen<RigViewState, RigViewAsk> {
  return {
    keys: [
      {
        ...{ keys: ['enter'], shown: 'Enter', short: 'take over' },
        does: 'Take the sign that was proved and the last digit that was seen into the form.',
        blocked: ({ check }) => (check.sign === null ? 'the sign is not proved yet' : null),
        act: (state) => ({ state, ask: 'take' }),
      },
      {
        keys: ['r'],
        shown: 'r',
        short: 'again',
        does: 'Measure again, from now on.',
        act: (state) => ({ state, ask: 'again' }),
      },
      {
        keys: ['escape', 'q'],
        shown: 'Esc',
        short: 'back',
        does: 'Back to the form.',
        leaves: true,
        act: (state) => ({ state, ask: 'back' }),
      },
    ],
    view: (state, size, foot) => draw(title, state, size, foot),
  }
}

function draw(title: string, state: RigViewState, size: Size, foot: Line) {
  const { width, body, small } = roomOf(size)
  const next = wrapLine(line(state.check.next, 'strong'), width - 3, 2).map(
    (l, i): Line => [span(i === 0 ? ' ► ' : '   ', 'accent'), ...l],
  )
  const proved = checkLines(state, width)
  const room = body - next.length - proved.length - (small ? 0 : 2)
  const each = Math.max(1, Math.floor(room / Math.max(1, state.ports.length)) - (small ? 1 : 2))
  const ports = state.ports.flatMap((port) => [...portLines(port, each, width), ...(small ? [] : [line('')])])
  return frame(size, title, '', [...next, ...(small ? [] : [line('')]), ...ports, ...proved], foot)
}

function portLines({ name, where, link, readingsPerS, faults, heard }: PortView, most: number, width: number): Line[] {
  const { sign, word, tone } = linkWords[link]
  const rate = readingsPerS === null ? 'no reading yet' : `${readingsPerS.toFixed(1)} readings/s`
  const raw = Math.floor((width - 6) * 0.5)
  const head: Line = [
    span(` ${name} `, 'strong'),
    span(`${sign} ${word}`, tone),
    span(`  ${cleanText(where)}  ${rate}${faults > 0 ? `, ${faults} unreadable` : ''}`),
  ]
  const rows = heard
    .slice(-most)
    .map(
      (piece): Line => [
        span('   '),
        span(padText(cleanText(piece.raw), raw), 'dim'),
        span(' → ', 'accent'),
        span(cleanText(piece.read), piece.bad ? 'warn' : 'strong'),
      ],
    )
  return [head, ...Array.from({ length: most }, (_, i) => rows[i] ?? line(''))]
}

function checkLines({ check, unit, digitPa }: RigViewState, width: number): Line[] {
  const { rest, sign, step } = check
  const say = (pa: number) => pressureText(pa, unit)
  const row = (done: boolean, name: string, text: string): Line[] =>
    wrapLine(line(text, done ? 'strong' : 'dim'), width - 14, 2).map((l, i) => [
      i === 0 ? span(done ? ' ✓ ' : ' · ', done ? 'good' : 'dim') : span('   '),
      span(padText(i === 0 ? name : '', 10)),
      ...l,
    ])
  return [
    ...row(digitPa > 0, 'digit', digitPa > 0 ? `last digit ${say(digitPa)}` : 'not seen yet'),
    ...row(
      rest !== null,
      'noise',
      rest ? `${say(rest.noisePa)}, standard deviation; rest is shown as ${say(rest.meanPa)}` : 'at rest, 4 s',
    ),
    ...row(
      sign !== null,
      'sign',
      sign ? `${sign.value}: the pull was shown as ${say(sign.movedPa)}` : 'by a small pull',
    ),
    ...row(step !== null, 'damping', step ? dampingText(step) : 'by letting go at once'),
  ]
}

function dampingText({ tauS, intervalS }: NonNullable<RigCheck['step']>): string {
  if (tauS < intervalS) return `quicker than its readings, which come every ${intervalS.toFixed(2)} s`
  return `time constant about ${tauS.toFixed(2)} s, to within a reading (${intervalS.toFixed(2)} s)`
}

/** In the unit it is read in, Pa beside it; three figures. */
function pressureText(pa: number, unit: string): string {
  const known = unit in pressureUnits ? (unit as PressureUnit) : 'Pa'
  const figures = (value: number) => String(Number(value.toPrecision(3)))
  const pascal = known === 'Pa' ? '' : ` (${figures(pa)} Pa)`
  return `${figures(pa / pressureUnits[known])} ${known}${pascal}`
}
