// The store of a run into lines that are only ever added to, with the keys of the live screen: for a screen reader.

import type { LiveExit, LiveOptions, LiveScreen } from './live-screen.ts'

import { createCalmLines } from './panels/calm-lines.ts'
import { type KeyRow, keysOf, questionKeys, testKeys } from './panels/keys.ts'
import { textAsked } from './panels/say-panel.ts'
import {
  initialScreen,
  isTextMode,
  pasteText,
  pressKey,
  type Request,
  type ScreenState,
} from './panels/screen-state.ts'
import { readKeys } from './screens/read-keys.ts'
import { bareText } from './text/line.ts'
import { cleanText } from './text/text.ts'

/** Tells the run on this process's terminal line by line, moves no cursor and clears nothing. SIGTERM and SIGINT close it. */
export function showCalm(options: LiveOptions): LiveScreen {
  const {
    part,
    title,
    simulated,
    opening = [],
    store,
    recording,
    onMark,
    onTyped,
    onSound,
    onEnd,
    onRepeat,
    onPaper,
    onSerial,
  } = options
  const { stdout } = process
  const situation = {
    marks: onMark !== undefined,
    ends: onEnd !== undefined,
    rings: onSound !== undefined,
    serial: part.serial ?? '',
  }
  let screen: ScreenState = initialScreen
  /** Text that is being typed is on the last row: whatever is told meanwhile goes above it. */
  const isTyping = () => isTextMode(screen.mode)
  const write = (text: string) => {
    stdout.write(isTyping() ? `\n${text}\n${promptOf(screen)}` : `${text}\n`)
  }

  const { promise: done, resolve } = Promise.withResolvers<LiveExit>()
  let over = false
  const leave = (by: LiveExit['by']) => {
    if (over) return
    over = true
    unsubscribe()
    process.off('SIGTERM', onSignal)
    process.off('SIGINT', onSignal)
    if (isTyping()) stdout.write('\n')
    stop()
    resolve({ by })
  }
  const onSignal = () => leave('signal')

  const ask = (request: Request) => {
    if (request.kind === 'mark') onMark?.(request.mark, request.text)
    else if (request.kind === 'typed') onTyped?.(request.order)
    else if (request.kind === 'acknowledge') for (const name of request.names) onMark?.('caution', name)
    else if (request.kind === 'sound') onSound?.(request.on)
    else if (request.kind === 'end') onEnd?.(request.reason)
    else {
      if (request.kind === 'repeat') onRepeat?.()
      if (request.kind === 'paper') onPaper?.(request.paper)
      if (request.kind === 'serial') onSerial?.(request.serial)
      leave('key')
    }
  }
  const press = (name: string) => {
    const before = screen
    const { state, request } = pressKey(before, name, { live: store.shown(), ...situation })
    screen = state
    if (state.mode === before.mode) echo(before.draft, state.draft)
    else if (isTyping()) stdout.write(promptOf(state))
    else {
      if (isTextMode(before.mode)) stdout.write('\n')
      if (state.mode === 'question') write(`End the test now? What was recorded stays on disk. ${hints(questionKeys)}`)
      if (state.mode === 'help') tellHelp()
    }
    if (state.said !== null) write(state.said)
    if (state.ending && !before.ending) write('Ending the test, closing the recording.')
    if (request) ask(request)
  }
  const echo = (before: string, after: string) => {
    if (after.startsWith(before)) stdout.write(after.slice(before.length))
    else stdout.write(`\n${promptOf(screen)}`)
  }
  /** The list is told at once, so there is nothing to close. */
  const tellHelp = () => {
    screen = { ...screen, mode: 'test' }
    const now = { live: store.shown(), ...situation, ending: screen.ending }
    for (const row of [...keysOf(now), ...questionKeys]) {
      const why = row.blocked(now)
      write(`${row.shown}: ${row.does}${why === null ? '' : ` Not now: ${why}.`}`)
    }
  }

  const onPaste = (text: string) => {
    const before = screen.draft
    screen = pasteText(screen, text)
    if (isTyping()) echo(before, screen.draft)
    else if (screen.said !== null) write(screen.said)
  }

  const tell = createCalmLines(write, part, simulated)
  let acknowledging = false
  let ended = false
  const onChange = () => {
    const live = store.shown()
    if (live === null) return
    tell(live, performance.now())
    const waits = situation.marks && (live.guide?.cautions.length ?? 0) > 0
    if (waits && !acknowledging) write('Enter says that all of this is understood; it is recorded.')
    acknowledging = waits
    const ends = live.phase === 'ended' && live.result !== null
    if (ends && !ended) {
      if (recording !== undefined) write(`Recording: ${cleanText(recording)}.`)
      const works = (row: KeyRow) => row.blocked({ live, ...situation, ending: false }) === null
      const offered = testKeys.filter((row) => ['repeat', 'report', 'print', 'tag'].includes(row.command) && works(row))
      write([...offered.map(({ shown, short }) => `${shown} ${short}`), 'Enter leaves.'].join(', '))
    }
    ended = ends
  }

  const stop = readKeys((name) => {
    if (!over) press(name)
  }, onPaste)
  for (const text of [title, ...(simulated ? ['Simulated bench.'] : []), ...opening, '? tells the keys.'])
    write(cleanText(text))
  process.on('SIGTERM', onSignal)
  process.on('SIGINT', onSignal)
  const unsubscribe = store.subscribe(onChange)
  onChange()
  return { told: () => ended, done, close: () => leave('close') }
}

/** What is asked for, with what is typed so far. */
function promptOf(screen: ScreenState): string {
  return `Enter keeps it, Esc drops it. ${bareText(textAsked({ screen }, Number.POSITIVE_INFINITY).flat()).trimEnd()} `
}

const hints = (rows: readonly KeyRow[]) => `${rows.map((row) => `${row.shown}: ${row.short}`).join(', ')}.`
