// A recording on disk onto the bench screen, played at any pace and jumped about in; its budget and its curve from there.

import { basename, dirname } from 'node:path'
import type { Live } from '../core/view/live.ts'
import { Problem } from '../errors.ts'
import type { Asks } from '../fold/messages.ts'
import { unpackLive } from '../fold/packed-live.ts'
import { type Fold, forPlay, startFold } from '../fold/start-fold.ts'
import { userDriverIds } from '../load-drivers.ts'
import { createCalmLines } from '../terminal/panels/calm-lines.ts'
import type { Host } from '../terminal/screens/host.tsx'
import {
  advance,
  createPlayer,
  lessonKeys,
  type PlayerAsk,
  type PlayerState,
  playerState,
  recordingKeys,
} from '../terminal/screens/player.ts'
import { budgetLines } from '../terminal/text/budget-lines.ts'
import { isBareConsole } from '../terminal/text/console-signs.ts'
import { isReadAloud } from '../terminal/text/is-read-aloud.ts'
import { userFolders } from '../user-folders.ts'
import { titleOf } from './describe-run.ts'
import { showPage } from './show-page.ts'

/** As often as the screen is drawn. */
const tickMs = 100

export type PlayOptions = {
  /** Seconds of the recording a second. */
  speed: number
  /** The recording hides a fault: nothing that names it is shown, and no key that would show it. */
  lesson?: (live: Live) => Live
  /** However it is left, what it comes to is asked for. */
  tells?: boolean
}

/** What a recording comes to, and which of its drivers has changed since. */
export type ToldRecording = Asks['tell']['gives']

/**
 * How the player was left: `name`: the learner is ready to name the fault; null: the whole program is to be left. `told`
 * where that was asked for, or a fault is to be named.
 */
export type Played = { told: ToldRecording | null; left: Extract<PlayerAsk, 'back' | 'name'> | null }

/**
 * Plays the recording at `path` until it is left; a worker reads it and works out what is shown. Throws a Problem for a
 * file that is not a recording.
 */
export async function playRecording(
  host: Host,
  path: string,
  { speed, lesson, tells = false }: PlayOptions,
): Promise<Played> {
  const folder = userFolders().drivers
  const fold = startFold(userDriverIds(folder), forPlay)
  try {
    const { start, endS } = await fold.ask('open', { path, folder })
    const calm = isReadAloud()
    const player = createPlayer({
      part: start.part,
      title: titleOf(start),
      simulated: start.simulated,
      dots: isBareConsole() ? 'block' : 'braille',
      calm,
      own: lesson ? lessonKeys : recordingKeys,
    })
    const look = async (atS: number) => {
      const live = unpackLive(await fold.ask('look', { atS }))
      return lesson ? lesson(live) : live
    }

    const end = async (left: Played['left']): Promise<Played> => ({
      told: tells || left === 'name' ? await fold.ask('tell', null) : null,
      left,
    })

    let say = (_text: string) => {}
    const createTell = () => createCalmLines((text) => say(text), start.part, start.simulated)
    let tell = calm ? createTell() : null
    let state: PlayerState = { ...playerState(endS, speed), live: await look(0) }
    /** The time that `live` is of: a jump changes the state's own first. */
    let lookedS = 0
    let failed: unknown = null
    for (;;) {
      const left: Exclude<PlayerAsk, 'curve' | 'print' | 'report' | 'print-report' | 'tag'> | null = await host.show(
        player,
        state,
        (ask, hands) => {
          if (ask === 'curve') saying(() => exportTo(fold, dirname(path))).then(hands.say)
          else if (ask === 'print') saying(() => printFrom(fold, path)).then(hands.say)
          else if (ask === 'report') saying(() => reportTo(fold, dirname(path))).then(hands.say)
          else if (ask === 'tag') saying(() => tagTo(fold, dirname(path))).then(hands.say)
          else if (ask === 'print-report') saying(() => printReportTo(fold, dirname(path))).then(hands.say)
          else {
            // The player is found again as it was left.
            state = hands.now()
            hands.leave(ask)
          }
        },
        (hands) => {
          let lastMs = performance.now()
          let looking = false
          say = hands.say
          // The keys are told first.
          setImmediate(() => tell?.(state.live!, lastMs))
          const tick = setInterval(() => {
            const nowMs = performance.now()
            const next = advance(hands.now(), (nowMs - lastMs) / 1000)
            lastMs = nowMs
            if (next !== hands.now()) hands.change(() => next)
            const { atS } = next
            if (looking || lookedS === atS) return
            looking = true
            look(atS).then(
              (live) => {
                // What comes again is told again.
                if (tell && atS < lookedS) tell = createTell()
                lookedS = atS
                looking = false
                hands.change((now) => ({ ...now, live }))
                tell?.(live, nowMs)
              },
              (error) => {
                failed = error
                hands.leave('back')
              },
            )
          }, tickMs)
          return () => clearInterval(tick)
        },
      )
      if (failed !== null) throw failed
      if (left !== 'budget') return await end(left)
      // A second's work: done when it is first asked for.
      const { told } = await fold.ask('tell', null)
      const budget = (width: number) => budgetLines(told.result, start.part, width < 100)
      const read = await showPage(host, 'Uncertainty budget', budget, { table: true })
      if (read === null) return await end(null)
    }
  } finally {
    fold.stop()
  }
}

async function exportTo(fold: Fold, out: string): Promise<string> {
  const written = await fold.ask('curve', { out })
  return `Curve: ${written.length} files, the first is ${written[0]}`
}

async function reportTo(fold: Fold, out: string): Promise<string> {
  return `Report: ${await fold.ask('report', { out })}`
}

async function tagTo(fold: Fold, out: string): Promise<string> {
  return `Tag: ${await fold.ask('tag', { out })}`
}

async function printReportTo(fold: Fold, out: string): Promise<string> {
  const { printReport } = await import('./print-report.ts')
  return printReport(await fold.ask('report', { out }))
}

async function printFrom(fold: Fold, path: string): Promise<string> {
  const { printPicture } = await import('./print-picture.ts')
  return printPicture(basename(path, '.run'), await fold.ask('drawings', null))
}

/** What `action` came to, or why it did not, as a sentence. */
async function saying(action: () => Promise<string>): Promise<string> {
  try {
    return await action()
  } catch (error) {
    if (error instanceof Problem) return `${error.message} ${error.next}`
    throw error
  }
}
