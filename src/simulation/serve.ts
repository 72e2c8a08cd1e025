// A bench's instruments on pseudo-terminals, with the part and rig files that lead there: the real path without hardware.

import { closeSync, constants, mkdirSync, openSync, rmSync, symlinkSync, writeFileSync, writeSync } from 'node:fs'
import path from 'node:path'
import type { ReadStream } from 'node:tty'
import type { MarkName } from '../core/model/marks.ts'
import { type PortName, rigPorts } from '../core/model/rig.ts'
import { Problem } from '../errors.ts'
import { createBench, type Emission } from './bench.ts'
import { type RealTime, runInRealTime } from './real-time.ts'
import { type Scenario, withPaths } from './scenario.ts'

export type Served = {
  /** Device paths by port: links in the folder, which stay the same when a cable comes off and back. */
  paths: Partial<Record<PortName, string>>
  partFile: string
  rigFile: string
  /** Resolves when a hand with a plan has made its last move; the instruments go on until `stop`. */
  finished: Promise<void>
  /** Tells the hand what a screen says. */
  tell(mark: MarkName): void
  /** Puts the next part on the bench, with a hand that was told nothing yet, or goes by its plan. */
  nextPart(orders?: 'told' | 'plan'): void
  /** Resolves with the first bytes that a program sends. */
  asked: Promise<void>
  stop(): void
}

export type ServeOptions = {
  scenario: Scenario
  seed: number
  /** Bench seconds per second. */
  speed: number
  /** Made if it is not there; files and links of the same name are replaced. */
  folder: string
  /**
   * `query`: the hand goes by its plan from the first bytes on that a program sends (a bench whose meter is never asked starts at
   * once); `screen`: the instruments run at once, and the hand does what it is told.
   */
  start: 'at-once' | 'query' | 'screen'
}

// What node-pty's open() gives, beyond its published types.
type Pair = { master: ReadStream; slave: ReadStream; fd: number; _pty: string }
type OpenPair = (options: { encoding: null }) => Pair

/** Offers the instruments of a scenario. Throws a Problem where the machine has no pseudo-terminals or the folder is closed. */
export async function serveBench({ scenario, seed, speed, folder, start }: ServeOptions): Promise<Served> {
  const openPair = await findOpenPair()
  let parts = 0
  const newBench = (orders: 'told' | 'plan') =>
    orders === 'told'
      ? createBench(scenario, seed + parts++, { hurry: speed })
      : createBench(heldLonger(scenario, speed), seed)
  let bench = newBench(start === 'screen' ? 'told' : 'plan')
  let heard = () => {}
  const asked = new Promise<void>((resolve) => {
    heard = resolve
  })
  const ends = new Map<PortName, End>()
  let time: RealTime | null = null
  let finish = () => {}
  const finished = new Promise<void>((resolve) => {
    finish = resolve
  })

  const begin = () => {
    time ??= runInRealTime(bench, speed, give, finish)
    return time
  }
  function give(emission: Emission) {
    if (emission.type === 'bytes') ends.get(emission.port)?.write(emission.bytes)
    else if (emission.type === 'link' && emission.state === 'lost') ends.get(emission.port)?.unplug()
    else if (emission.type === 'link') ends.get(emission.port)?.plug()
  }

  const paths: Served['paths'] = {}
  const partFile = path.join(folder, 'part.json')
  const rigFile = path.join(folder, 'rig.json')
  try {
    mkdirSync(folder, { recursive: true })
    for (const { name } of rigPorts(scenario.rig)) {
      const link = path.resolve(folder, name)
      paths[name] = link
      ends.set(
        name,
        createEnd(link, openPair, (bytes) => {
          heard()
          bench.write(name, bytes, begin().nowUs())
        }),
      )
    }
    for (const end of ends.values()) end.plug()
    writeFileSync(partFile, `${JSON.stringify(scenario.part, null, 2)}\n`)
    writeFileSync(rigFile, `${JSON.stringify(provedFrom(speed, withPaths(scenario, paths).rig), null, 2)}\n`)
  } catch (error) {
    for (const end of ends.values()) end.unplug()
    throw new Problem('folder-unwritable', `The simulated bench cannot use the folder "${folder}": ${reason(error)}.`)
  }
  if (start !== 'query' || scenario.truth.meter.query === null) begin()

  return {
    paths,
    partFile,
    rigFile,
    finished,
    tell: (mark) => bench.tell(mark),
    asked,
    nextPart(orders = 'told') {
      time?.stop()
      time = null
      bench = newBench(orders)
      begin()
    },
    stop() {
      time?.stop()
      for (const end of ends.values()) end.unplug()
    },
  }
}

async function findOpenPair(): Promise<OpenPair> {
  try {
    const { default: pty } = await import('@lydell/node-pty')
    const { open } = pty as unknown as { open?: OpenPair }
    // On Windows it is there and always throws.
    if (open && process.platform !== 'win32') return open
  } catch {
    // Named below: to the user it is the same whether it is missing or does not load.
  }
  throw new Problem('pseudo-terminal-missing', 'This machine offers no pseudo-terminals for the simulated instruments.')
}

type End = { plug(): void; unplug(): void; write(bytes: string): void }

function createEnd(link: string, openPair: OpenPair, onBytes: (bytes: string) => void): End {
  let pair: Pair | null = null
  let held = -1
  return {
    plug() {
      const opened = openPair({ encoding: null })
      // Held open, unread: else the pair would hang up whenever the program closes its side. Its own stream would read the program's bytes.
      held = openSync(opened._pty, constants.O_RDWR | constants.O_NOCTTY)
      opened.slave.destroy()
      opened.master.on('error', () => {})
      opened.master.on('data', (bytes: Buffer) => onBytes(bytes.toString('latin1')))
      pair = opened
      rmSync(link, { force: true })
      symlinkSync(opened._pty, link)
    },
    unplug() {
      if (!pair) return
      rmSync(link, { force: true })
      closeSync(held)
      pair.master.destroy()
      pair = null
    },
    write(bytes) {
      if (pair) writeOrDrop(pair.fd, Buffer.from(bytes, 'latin1'))
    },
  }
}

/**
 * Writes what there is room for: bytes that nobody reads are lost, as on a serial line without a listener. The stream of the
 * master would try again and again, for ever and without letting anything else happen, while the pair is full.
 */
function writeOrDrop(fd: number, bytes: Buffer): void {
  try {
    writeSync(fd, bytes)
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    // Full, or hung up by a program that takes the device over.
    if (code !== 'EAGAIN' && code !== 'EIO') throw error
  }
}

function reason(error: unknown): string {
  return error instanceof Error ? error.message.split('\n')[0]! : String(error)
}

/** Strokes so much faster than a hand's tell nothing of a slow hose: the rig of a hurried bench states a record of its line. */
function provedFrom(speed: number, rig: Scenario['rig']): Scenario['rig'] {
  if (speed <= 1) return rig
  return {
    ...rig,
    proved: { at: new Date().toISOString(), hoseS: 0.002, uHoseS: 0.001, recording: 'the bench itself' },
  }
}

/** The screen counts the seconds of a hold by its own clock: a bench that runs faster holds longer by its own, and a little beyond. */
function heldLonger(scenario: Scenario, speed: number): Scenario {
  const { plan } = scenario
  const { holdInPreconditionS, pinchS } = plan
  const longer = { holdInPreconditionS: 1.1 * speed * holdInPreconditionS, pinchS: speed * pinchS }
  return { ...scenario, plan: { ...plan, ...longer } }
}
