// What the instruments of a rig send, as it comes, beside what is read from it, and what that proves of the manometer.

import type { PressureUnit } from '../../core/model/units.ts'
import type { RigCheck } from '../../core/signal/rig-check.ts'
import { type Digits, oneUnitText, pressureText } from '../../core/text/pressure-text.ts'
import type { Size } from '../panels/layout.ts'
import { type Line, line, span, wrapLine } from '../text/line.ts'
import { cleanText, padText } from '../text/text.ts'
import { linkWords } from '../text/words.ts'
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
  /** Since its port was opened, or anything came; null while it is closed. */
  quietS: number | null
  /** Whether it is asked, or sends by itself. */
  asked: boolean
  /** The newest last. */
  heard: readonly Heard[]
}
export type RigViewState = {
  ports: readonly PortView[]
  check: RigCheck
  /** Unit that the manometer is read in. */
  unit: PressureUnit
  digitPa: number
}
export type RigViewAsk = 'back' | 'take' | 'again'

/** The screen; `title` names the rig. */
export function createRigView(title: string): Screen<RigViewState, RigViewAsk> {
  return {
    keys: [
      {
        ...{ keys: ['enter'], shown: 'Enter', short: 'take sign, digit' },
        does: `Put the proved sign and the last digit seen into the form. ${notTaken}`,
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

/** A test finds them in its own readings. */
const notTaken = 'Rate, noise and damping are shown only: each test measures its own.'

function draw(title: string, state: RigViewState, size: Size, foot: Line) {
  const { width, body, small } = roomOf(size)
  const next = wrapLine(line(state.check.next, 'strong'), width - 3, 2).map(
    (l, i): Line => [span(i === 0 ? ' ► ' : '   ', 'accent'), ...l],
  )
  const proved = [...checkLines(state, width, small), ...(small ? [] : [line(` ${notTaken}`, 'dim')])]
  const room = body - next.length - proved.length - (small ? 0 : 2)
  const each = Math.max(1, Math.floor(room / Math.max(1, state.ports.length)) - (small ? 1 : 2))
  const ports = state.ports.flatMap((port) => [...portLines(port, each, width), ...(small ? [] : [line('')])])
  return frame(size, title, '', [...next, ...(small ? [] : [line('')]), ...ports, ...proved], foot)
}

/** The rate is what one came for: path and baud rate give way. */
function portLines(port: PortView, most: number, width: number): Line[] {
  const { name, where, link, readingsPerS, faults, heard } = port
  const { sign, word, tone } = linkWords[link]
  const rate = readingsPerS === null ? 'no reading yet' : `${readingsPerS.toFixed(1)} readings/s`
  const raw = Math.floor((width - 6) * 0.5)
  const head: Line = [
    span(` ${name} `, 'strong'),
    span(`${sign} ${word}`, tone),
    span(`  ${rate}`, readingsPerS === null ? 'plain' : 'strong'),
    span(`${faults > 0 ? `, ${faults} unreadable` : ''}  `),
    span(cleanText(where), 'dim'),
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
  const hint = hintOf(port)
  const told = hint === null ? [] : wrapLine(line(hint, 'warn'), width - 4, most).map((l) => [span('   '), ...l])
  const shown = [...rows.slice(Math.max(0, rows.length + told.length - most)), ...told]
  return [head, ...Array.from({ length: most }, (_, i) => shown[i] ?? line(''))]
}

/** An instrument that sends by itself sends more often than this, and one that is asked answers sooner. */
const patienceS = 3

/** What to look at where nothing comes, or nothing that can be read; null where all is well so far. */
function hintOf({ link, quietS, asked, heard, readingsPerS, faults }: PortView): string | null {
  if (link !== 'open' || quietS === null) return null
  if (quietS > patienceS)
    return asked
      ? 'No answer: switched on? right port and baud? its interface on?'
      : 'Nothing yet: switched on? right port and baud? its output on?'
  if (heard.length > 0 && faults > 0 && readingsPerS === null)
    return 'Nothing can be read: right baud, driver, options?'
  return null
}

function checkLines({ check, unit, digitPa }: RigViewState, width: number, small: boolean): Line[] {
  const { rest, movesPa, sign, step } = check
  const byDigit = digitPa > 0 ? { stepPa: digitPa } : undefined
  const say = (pa: number, digits?: Digits) => (small ? oneUnitText : pressureText)(pa, unit, digits)
  const row = (done: boolean, name: string, text: string): Line[] =>
    wrapLine(line(text, done ? 'strong' : 'dim'), width - 14, small ? 1 : 2).map((l, i) => [
      i === 0 ? span(done ? ' ✓ ' : ' · ', done ? 'good' : 'dim') : span('   '),
      span(padText(i === 0 ? name : '', 10)),
      ...l,
    ])
  const noise = rest
    ? small
      ? `${say(rest.noisePa)} about ${say(rest.meanPa)}`
      : `${say(rest.noisePa)}, standard deviation; rest is shown as ${say(rest.meanPa)}`
    : movesPa !== null
      ? `it moves: ${say(movesPa, byDigit)} in the last 4 s`
      : 'at rest, 4 s'
  return [
    ...row(digitPa > 0, 'digit', digitPa > 0 ? `last digit ${say(digitPa, { upTo: 3 })}` : 'not seen yet'),
    ...row(rest !== null, 'noise', noise),
    ...row(
      sign !== null,
      'sign',
      sign
        ? `${sign.value}: ${small ? 'pull shown' : 'the pull was shown'} as ${say(sign.movedPa, byDigit)}`
        : 'by a small pull',
    ),
    ...row(step !== null, 'damping', step ? dampingText(step, small) : 'by letting go at once'),
  ]
}

function dampingText({ tauS, intervalS }: NonNullable<RigCheck['step']>, small: boolean): string {
  const [tau, interval] = [tauS.toFixed(2), intervalS.toFixed(2)]
  if (tauS < intervalS)
    return small ? `below ${interval} s` : `quicker than its readings, which come every ${interval} s`
  return small ? `${tau} ± ${interval} s` : `time constant about ${tau} s, to within a reading (${interval} s)`
}
