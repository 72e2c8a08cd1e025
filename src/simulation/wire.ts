// A path `simulated:<scenario>?seed=<n>&speed=<x>` into an open wire to one instrument of that bench, in real time.
import type { MarkName } from '../core/model/marks.ts'
import type { PortName } from '../core/model/rig.ts'

import { Problem } from '../errors.ts'
import { createBench, type Emission } from './bench.ts'
import { findScenario } from './find-scenario.ts'
import { type RealTime, runInRealTime } from './real-time.ts'

export type WireListener = { onOpen(): void; onData(bytes: Buffer): void; onLost(why: string): void }
export type SimulatedWire = { write(bytes: Buffer): void; close(): void }

const scheme = 'simulated:'

/** What the hand of a simulated bench follows: its own plan, or what the screen asks for. */
export type Follows = 'plan' | 'screen'

/** Whether a device path names a simulated instrument. */
export function isSimulatedPath(path: string): boolean {
  return path.startsWith(scheme)
}

/** The device path of a simulated bench; `speed` 1 = real time; its hand follows the screen, or a plan of its own. */
export function simulatedPath(scenario: string, seed: number, speed = 1, follows: Follows = 'plan'): string {
  return `${scheme}${scenario}?seed=${seed}&speed=${speed}${follows === 'plan' ? '' : `&hand=${follows}`}`
}

type SimulatedPath = { name: string; seed: number; speed: number; follows: Follows }

/** What a path says; seed 1, speed 1 and a hand with a plan where it does not. Throws a Problem that names what is wrong. */
export function parseSimulatedPath(path: string): SimulatedPath {
  const [name = '', query = ''] = path.slice(scheme.length).split('?', 2)
  const asked = new URLSearchParams(query)
  const unknown = [...asked.keys()].find((key) => !['seed', 'speed', 'hand'].includes(key))
  if (unknown !== undefined)
    throw new Problem(
      'rig-invalid',
      `The path "${path}" asks for "${unknown}"; a simulated bench knows seed, speed and hand.`,
    )
  const seed = Number(asked.get('seed') ?? 1)
  const speed = Number(asked.get('speed') ?? 1)
  if (!Number.isSafeInteger(seed) || seed < 0)
    throw new Problem('rig-invalid', `The seed of "${path}" is not a whole number from 0 up.`)
  if (!(speed >= 0.1 && speed <= 1000))
    throw new Problem('rig-invalid', `The speed of "${path}" is not within 0.1 to 1000 times real time.`)
  const follows = asked.get('hand') ?? 'plan'
  if (follows !== 'plan' && follows !== 'screen')
    throw new Problem('rig-invalid', `The hand of "${path}" is "${follows}"; it must be plan or screen.`)
  return { name, seed, speed, follows }
}

/** Tells the hands of all benches that run here what the screen says. */
export function tellSimulatedHands(mark: MarkName): void {
  for (const { tell } of running.values()) tell(mark)
}

type Running = {
  tell(mark: MarkName): void
  time: RealTime
  write(port: PortName, bytes: Buffer): void
  open: Map<PortName, WireListener>
  lost: Set<PortName>
}

// Wires of one path share one bench; it lives from the first opened wire to the last closed one.
const running = new Map<string, Running>()

/**
 * Opens one instrument of a simulated bench. The listeners are called later, never from within this call; a cable
 * that is off answers with `onLost` at once, as an absent device would. Throws a Problem on a path it cannot read.
 */
export function openSimulatedWire(path: string, name: PortName, on: WireListener): SimulatedWire {
  const bench = running.get(path) ?? startBench(path)
  let closed = false
  setImmediate(() => {
    if (closed) return
    if (bench.lost.has(name)) {
      on.onLost('the device is gone')
      return
    }
    bench.open.set(name, on)
    bench.time.keepAlive(true)
    on.onOpen()
  })
  return {
    write(bytes) {
      if (!closed && bench.open.get(name) === on) bench.write(name, bytes)
    },
    close() {
      closed = true
      if (bench.open.get(name) === on) bench.open.delete(name)
      if (bench.open.size > 0) return
      // A cable that is off may come back to the same bench, but the wait for it keeps no process alive.
      if (bench.lost.size > 0) {
        bench.time.keepAlive(false)
        return
      }
      bench.time.stop()
      running.delete(path)
    },
  }
}

function startBench(path: string): Running {
  const { name, seed, speed, follows } = parseSimulatedPath(path)
  const bench = createBench(findScenario(name, seed), seed, follows === 'plan' ? 'plan' : { hurry: speed })
  const open = new Map<PortName, WireListener>()
  const lost = new Set<PortName>()

  function give(emission: Emission) {
    if (emission.type === 'bytes') open.get(emission.port)?.onData(Buffer.from(emission.bytes, 'latin1'))
    else if (emission.type === 'link') giveLink(emission.port, emission.state)
  }

  function giveLink(port: PortName, state: 'lost' | 'back') {
    if (state === 'back') {
      lost.delete(port)
      return
    }
    lost.add(port)
    const listener = open.get(port)
    open.delete(port)
    listener?.onLost('the device is gone')
  }

  const time = runInRealTime(bench, speed, give)
  const started: Running = {
    tell: bench.tell,
    time,
    open,
    lost,
    write: (port, bytes) => bench.write(port, bytes.toString('latin1'), time.nowUs()),
  }
  running.set(path, started)
  return started
}
