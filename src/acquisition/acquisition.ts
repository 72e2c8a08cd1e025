// Orders of the screen process into one recording: ports opened, events appended, and the file ended and sealed.
import type { EndReason } from '../core/model/event.ts'
import type { TypedOrder } from '../core/model/typed.ts'
import type { Problem } from '../errors.ts'
import { choosePorts } from '../ports/choose-ports.ts'
import { presentPorts } from '../ports/present-ports.ts'
import { isSimulatedPath, tellSimulatedHands } from '../simulation/wire.ts'
import { beginRecording } from './begin-recording.ts'
import { createClock } from './clock.ts'
import { createLink } from './link.ts'
import type { AcquisitionPlan, MarkOrder, Signing } from './messages.ts'
import { openPort } from './port.ts'

export type Acquisition = {
  mark(order: MarkOrder): void
  typed(order: TypedOrder): void
  /** The last input: ports are let go, `end` is appended. Later calls change nothing. */
  end(reason: EndReason): void
  /**
   * The end, if it has not come (`abandoned`), the result if there is one, the seal; then the file is closed. Throws a
   * Problem that says where all of it is kept, where the path does not lead to the file any more.
   */
  conclude(result?: { result: unknown }): void
}

const tickEveryMs = 250
const sealEveryMs = 60_000
// Fits into one line whatever its characters are.
const maxMarkCharacters = 10_000

/** Where the adapter of port `i` is by now, kept in `paths`; null where it is not there, or not told from others. */
async function findPath(ports: AcquisitionPlan['ports'], paths: string[], i: number): Promise<string | null> {
  const wanted = ports.map(({ name, adapter }, j) => ({
    name,
    path: paths[j]!,
    exists: true,
    adapter: adapter ?? null,
  }))
  const choice = choosePorts(wanted, await presentPorts())[i]
  if (!choice || choice.path === null || choice.adapter === 'other') return null
  paths[i] = choice.path
  return choice.path
}

/** Begins the recording and opens its ports. What a simulated bench sends is never signed. `onGrown` is called after each append, `onRefused` where a port cannot be opened at first. */
export function createAcquisition(
  plan: AcquisitionPlan,
  signing: Signing | null,
  onGrown: () => void,
  onRefused: (problem: Problem) => void,
): Acquisition {
  const simulated = plan.start.simulated || plan.ports.some(({ path }) => isSimulatedPath(path))
  const start = { ...plan.start, at: new Date().toISOString() }
  const { recorder, sealLast } = beginRecording(plan.file, start, simulated ? null : signing)
  const clock = createClock()
  let ended = false
  let concluded = false
  const now = () => clock.stampUs(clock.nowUs())
  onGrown()

  // Where each is by now: one that is back under another name leaves its old name to others.
  const paths = plan.ports.map(({ path }) => path)
  const links = plan.ports.map((port, i) =>
    createLink(
      port,
      openPort,
      {
        nowUs: clock.nowUs,
        bytes(type, arrivalUs, bytes) {
          recorder.appendBytes(type, clock.stampUs(arrivalUs), port.name, bytes)
          onGrown()
        },
        link(state, why) {
          recorder.append({ type: 'link', t: now(), port: port.name, state, ...(why === undefined ? {} : { why }) })
          onGrown()
        },
      },
      onRefused,
      port.adapter ? () => findPath(plan.ports, paths, i) : null,
    ),
  )

  const ticks = setInterval(() => {
    const jumpS = clock.jumpS()
    if (jumpS !== 0)
      for (const link of links) link.reopen(`wall clock and monotonic clock parted by ${jumpS.toFixed(1)} s`)
    recorder.append({ type: 'tick', t: now() })
    onGrown()
    // Every further minute of a test that can no longer pass would be wasted on the hand.
    if (recorder.whyAstray() !== null) conclude()
  }, tickEveryMs)
  const seals = setInterval(() => recorder.seal(now()), sealEveryMs)

  function end(reason: EndReason): void {
    if (ended) return
    ended = true
    for (const timer of [ticks, seals]) clearInterval(timer)
    for (const link of links) link.close()
    recorder.append({ type: 'end', t: now(), reason })
    onGrown()
  }

  function conclude(result?: { result: unknown }): void {
    if (concluded) return
    concluded = true
    try {
      end('abandoned')
      // A result of a recording that is astray is not what will be said.
      if (result && recorder.whyAstray() === null) {
        const verdict = { type: 'verdict', t: now(), ...result } as const
        if (recorder.fits(verdict)) recorder.append(verdict)
      }
      sealLast(now())
    } finally {
      recorder.close()
    }
  }

  return {
    mark({ mark, by, text }) {
      if (ended) return
      recorder.append({
        type: 'mark',
        t: now(),
        mark,
        by,
        ...(text === undefined ? {} : { text: text.slice(0, maxMarkCharacters) }),
      })
      tellSimulatedHands(mark)
      if (mark === 'cycles') recorder.seal(now())
      onGrown()
    },
    typed({ what, text, unit, digit }) {
      if (ended) return
      recorder.append({ type: 'typed', t: now(), what, text, ...(unit && { unit }), ...(digit && { digit }) })
      onGrown()
    },
    end,
    conclude,
  }
}
