// The built program at numbered lines of a virtual manometer, with a fault done to it, into what came of it.
import { type ChildProcess, spawn } from 'node:child_process'
import {
  closeSync,
  existsSync,
  fstatSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import pty from '@lydell/node-pty'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createReader } from '../../src/recording/read.ts'
import { pretendNode } from '../harness/pretend-node.ts'
import { descendantsOf, isGone, screenAndRecorder, signalTo } from '../harness/processes.ts'
import { environmentIn, programPath } from '../harness/run-program.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial, type VirtualSerial } from '../harness/virtual-serial.ts'

/** What a fault may do to a test that is recording. */
export type Victim = {
  /** The process that was started; with a launcher that is the launcher. */
  started: number
  /** The process that draws or prints, and the one that records. */
  screen: number
  recorder: number
  file: string
  /** The cable of the manometer, pulled or plugged in. */
  cable(on: boolean): void
  /** How many lines were sent until now, once the recording has them all; what it does not take in a minute is lost. */
  taken(): Promise<number>
  /** In a terminal: no more is read from it, or again. */
  stall(on: boolean): void
}

export type Setting = { linesPerS: number; launcher?: boolean; terminal?: boolean; ulimitBlocks?: number }

/** Does its work; gives how many of the lines must have been recorded by then, where that can be said. */
export type Act = (victim: Victim) => Promise<number | null> | number | null

/** What came of one test. `lines` recorded; `lost` of each connection: between its first and last, and of those that were due. */
export type Outcome = {
  lines: number
  lost: number
  leftOver: number
  sealed: boolean
  passedUnsealed: boolean
  status: number | null
}

const part = {
  kind: 'draft-proving',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: 55, high: 70, unit: 'Pa' } },
}
const everyMs = 20
const digits = 7
const numbered = new RegExp(`0\\.(\\d{${digits}}) Pa`, 'g')
/** A program that a fault does not end, ms: only so that the bench goes on. */
const hangsAfterMs = 120_000

/** Starts the program, lets `fault` do its work once lines are recorded, and waits for all to be over. */
export async function sufferFault(setting: Setting, fault: Act): Promise<Outcome> {
  const folder = mkdtempSync(join(tmpdir(), 'makebreak-fault-'))
  const manometer = createVirtualSerial(join(folder, 'manometer'))
  const meter = createVirtualSerial(join(folder, 'meter'))
  for (const device of [manometer, meter]) device.plug()
  const port = ({ path }: VirtualSerial) => ({ path, baudRate: 115_200 })
  const rig = {
    manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' }, port: port(manometer) },
    meter: { driver: 'ascii-line', pair: 'com-no', port: port(meter) },
  }
  writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
  writeFileSync(join(folder, 'part.json'), JSON.stringify(part))
  mkdirSync(join(folder, 'home'))
  const program = startIn(folder, setting)
  let sent = 0
  let plugged = true
  const startMs = performance.now()
  const talking = setInterval(() => {
    const due = ((performance.now() - startMs) * setting.linesPerS) / 1000
    let text = ''
    while (sent < due) text += `0.${String(sent++).padStart(digits, '0')} Pa\r\n`
    if (plugged) manometer.write(text)
    meter.write('OL\r\n')
  }, everyMs)
  let family: number[] = []
  try {
    const data = join(folder, 'data')
    const file = await until(() => {
      const [name] = existsSync(data) ? readdirSync(data) : []
      const path = join(data, name ?? '')
      return name !== undefined && readFileSync(path, 'latin1').includes('"rx"') ? path : null
    }, 'lines in the recording')
    family = [program.pid, ...descendantsOf(program.pid)]
    const due = await fault({
      started: program.pid,
      file,
      // Looked for when they are asked for: a recorder without room for its file may be gone by now.
      get screen() {
        return screenAndRecorder(program.pid).screen
      },
      get recorder() {
        return screenAndRecorder(program.pid).recorder
      },
      cable(on) {
        plugged = on
        if (on) manometer.plug()
        else manometer.unplug()
      },
      async taken() {
        const due = sent
        await until(() => lastNumber(file) + 1 >= due, 'what was sent', 60_000).catch(() => {})
        return due
      },
      stall: program.stall,
    })
    const hung = wait(hangsAfterMs, null, { ref: false }).then(() =>
      Promise.reject(new Error('the program did not end')),
    )
    const status = await Promise.race([program.ended, hung])
    const leftOver = await countLeftOver(family)
    const found = readdirSync(data).map((name) => read(join(data, name)))
    const sealed = found.some((events) => isSealed(events))
    const counts = found.map(countLines).toSorted((a, b) => b.lines - a.lines)
    const { lines, lost: between, next } = counts[0] ?? { lines: 0, lost: 0, next: 0 }
    const lost = between + Math.max(0, (due ?? 0) - next)
    return { lines, lost, leftOver, sealed, passedUnsealed: status === 0 && !sealed, status }
  } finally {
    clearInterval(talking)
    for (const pid of family) signalTo(pid, 'SIGKILL')
    signalTo(program.pid, 'SIGKILL')
    for (const device of [manometer, meter]) device.unplug()
    rmSync(folder, { recursive: true, force: true })
  }
}

type Started = { pid: number; ended: Promise<number | null>; stall(on: boolean): void }

function startIn(folder: string, { launcher, terminal, ulimitBlocks }: Setting): Started {
  const nodeArgs = launcher ? pretendNode(folder, '20.20.2') : []
  const setup = ['--rig', 'rig.json', '--part', 'part.json', '--data-dir', 'data']
  const command = [...nodeArgs, programPath, 'run', ...setup, ...(terminal ? [] : ['--plain'])]
  const { MAKEBREAK_RELAUNCHED: _, ...env } = environmentIn(folder)
  if (terminal) {
    const child = pty.spawn(process.execPath, command, { cwd: folder, cols: 120, rows: 40, env })
    const ended = new Promise<number | null>((done) => child.onExit(({ exitCode }) => done(exitCode)))
    child.onData(() => {})
    return { pid: child.pid, ended, stall: (on) => (on ? child.pause() : child.resume()) }
  }
  const limited = ['-c', `ulimit -f ${ulimitBlocks}; exec "$0" "$@"`, process.execPath, ...command]
  const options = { cwd: folder, env, stdio: ['ignore', 'ignore', 'ignore'] as 'ignore'[] }
  const child: ChildProcess =
    ulimitBlocks === undefined ? spawn(process.execPath, command, options) : spawn('/bin/sh', limited, options)
  const ended = new Promise<number | null>((done) => child.on('exit', done))
  return { pid: child.pid ?? 0, ended, stall: () => {} }
}

/** Processes that are still there when they have had their time: what is to end ends by itself. */
async function countLeftOver(family: readonly number[]): Promise<number> {
  const left = () => family.filter((pid) => !isGone(pid)).length
  await until(() => left() === 0, 'all processes to end', 60_000).catch(() => {})
  return left()
}

/** The number of the last line in the end of a recording that grows; -1 where there is none. */
function lastNumber(path: string): number {
  const file = openSync(path, 'r')
  const end = Buffer.alloc(4000)
  const bytes = readSync(file, end, 0, end.length, Math.max(0, fstatSync(file).size - end.length))
  closeSync(file)
  return Number([...end.toString('latin1', 0, bytes).matchAll(numbered)].at(-1)?.[1] ?? -1)
}

function read(path: string): RecordedEvent[] {
  const reader = createReader()
  return [...reader.push(readFileSync(path)), ...reader.finish()]
}

function isSealed(events: readonly RecordedEvent[]): boolean {
  const last = events.at(-1)
  return last?.type === 'seal' && last.matches
}

/** Numbers that are missing within one connection: what a pulled cable swallows never came here. */
function countLines(events: readonly RecordedEvent[]): { lines: number; lost: number; next: number } {
  let lines = 0
  let lost = 0
  let next: number | null = null
  // A line that took long to come is recorded in two pieces.
  let begun = ''
  for (const event of events) {
    if (event.type === 'link' && event.port === 'manometer') {
      next = null
      begun = ''
    }
    if (event.type !== 'rx' || event.port !== 'manometer') continue
    begun += event.text ?? ''
    if (!begun.endsWith('\n')) continue
    const [, digitsRead] = new RegExp(`^0\\.(\\d{${digits}}) Pa`).exec(begun) ?? []
    begun = ''
    // The first piece of a connection may be the rest of a line.
    if (digitsRead === undefined) continue
    const number = Number(digitsRead)
    lines++
    if (next !== null) lost += Math.abs(number - next)
    next = number + 1
  }
  return { lines, lost, next: next ?? 0 }
}
