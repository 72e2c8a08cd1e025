// The recordings in the data folder: what was recorded of each at once, what it comes to today while no key is pressed; one opened to be played.
import { readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { asProblem, asSentence } from '../../errors.ts'
import { glanceAt } from '../../recording/glance.ts'
import {
  type Choice,
  createPickList,
  type ListKey,
  type Picked,
  type PickState,
  pickState,
  withRows,
} from '../../terminal/screens/pick-list.ts'
import { recordedRow, recordingColumns, recordingRow } from '../../terminal/screens/recording-row.ts'
import { userFolders } from '../../user-folders.ts'
import { copiesText } from '../copies-text.ts'
import { followingFile } from '../earlier-test.ts'
import type { Judged } from '../judge-recording.ts'
import { playRecording } from '../play-recording.ts'
import { showProblem } from '../show-page.ts'
import type { Desk } from './desk.ts'
import { type Judge, openJudge } from './judge-aside.ts'
import { runHere } from './test-lot.ts'

type Row = Choice<string>

/** So long without a key counts as idle, ms: shop rule. */
const idleMs = 300

/** Rows by file, as long as neither size nor time of the file changes. */
type Known = Map<string, Row>

const repeat: ListKey = {
  name: 'repeat',
  onRow: true,
  keys: ['ctrl-r'],
  shown: 'Ctrl-R',
  short: 'repeat',
  does: 'Test the same part on the same rig again, or go on with a test that was broken off; the new recording names this one.',
}

/** The list of recordings, newest first, until it is left. */
export async function browseRecordings(desk: Desk): Promise<void> {
  const judge = await openJudge(userFolders().drivers)
  try {
    await browse(desk, userFolders().recordings, judge)
  } finally {
    judge.stop()
  }
}

async function browse(desk: Desk, folder: string, judge: Judge): Promise<void> {
  const list = createPickList<string>({
    title: 'Recordings',
    empty: `${folder} holds no recording yet.`,
    enter: { short: 'open', does: 'Play this recording.' },
    back: { short: 'back', does: 'Clear the search, else go back.' },
    search: true,
    own: [repeat],
    // Verdict, serial number and date tell one test from another.
    giveWay: [recordingColumns.notes, recordingColumns.model, recordingColumns.date, recordingColumns.serial],
  })
  const known: Known = new Map()
  let state = pickState<string>([])
  while (!desk.host.over()) {
    state = withRows(state, await rowsNow(folder, known), (a, b) => a === b)
    const picked: Picked<string> | null = await desk.host.show<PickState<string>, Picked<string>, Picked<string>>(
      list,
      state,
      (ask, hands) => {
        state = hands.now()
        hands.leave(ask)
      },
      (hands) => {
        const stop = new AbortController()
        /** Resolves once no key has changed the list for a while: working a recording out takes the keys' time. */
        const idle = async () => {
          for (let before = null; before !== hands.now() && !stop.signal.aborted; ) {
            before = hands.now()
            await wait(idleMs)
          }
        }
        workOut(folder, judge, known, {
          stop: stop.signal,
          idle,
          give: (row) => hands.change((s) => replaceRow(s, row)),
        })
        return () => stop.abort()
      },
    )
    const name = picked?.by === 'back' ? null : (picked?.value ?? null)
    if (name === null) return
    const path = join(folder, name)
    await showProblem<unknown>(desk.host, async () =>
      picked?.by === repeat.name
        ? runHere(desk, await followingFile(path))
        : playRecording(desk.host, path, { speed: 10 }),
    )
  }
}

/** A row for each recording: what is known of it, else its name. */
async function rowsNow(folder: string, known: Known): Promise<Row[]> {
  const files = await readdir(folder).catch(() => [])
  const names = files
    .filter((name) => name.endsWith('.run'))
    .sort()
    .reverse()
  const keys = await Promise.all(names.map((name) => keyOf(folder, name)))
  return names.map((name, i) => known.get(keys[i]!) ?? { value: name, cells: ['…', name], tone: 'dim' })
}

type Work = { stop: AbortSignal; idle: () => Promise<void>; give: (row: Row) => void }

/** Hands on what was recorded of each that is not known yet, then what each comes to today, the newest first. */
async function workOut(folder: string, { judge }: Judge, known: Known, work: Work): Promise<void> {
  const { stop, idle, give } = work
  const unknown: { name: string; key: string }[] = []
  for (const { value: name } of await rowsNow(folder, known)) {
    const key = await keyOf(folder, name)
    if (stop.aborted) return
    if (known.has(key)) continue
    unknown.push({ name, key })
    const glance = await glanceAt(join(folder, name))
    if (glance !== null && !stop.aborted) give({ value: name, ...recordedRow(glance, name) })
  }
  for (const { name, key } of unknown) {
    await idle()
    if (stop.aborted) return
    const path = join(folder, name)
    const row = await rowOf(name, () => judge(path), await copiesText(path))
    known.set(key, row)
    if (!stop.aborted) give(row)
  }
}

/** The row of the recording `name`, worked out by `judge`; one that cannot be read says so in its row. */
export async function rowOf(name: string, judge: () => Promise<Judged>, copies: readonly string[] = []): Promise<Row> {
  try {
    const { told, notes } = await judge()
    return { value: name, ...recordingRow(told.setup.start, told.result, name, notes, copies.map(asSentence)) }
  } catch (error) {
    // A file that the program itself fails on is a row too: the others are there to be opened.
    const { message, next } = asProblem(error)
    return { value: name, cells: ['!', `${name} cannot be read`], tone: 'bad', about: [message, next] }
  }
}

async function keyOf(folder: string, name: string): Promise<string> {
  const found = await stat(join(folder, name)).catch(() => null)
  return `${name} ${found?.size} ${found?.mtimeMs}`
}

function replaceRow(state: PickState<string>, row: Row): PickState<string> {
  const rows = state.rows.map((other) => (other.value === row.value ? row : other))
  return withRows(state, rows, (a, b) => a === b)
}
