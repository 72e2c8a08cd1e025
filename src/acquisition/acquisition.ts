// Orders of the screen process into one recording: ports opened, events appended, and the file ended and sealed.
import type { EndReason } from '../core/model/event.ts'
import type { Problem } from '../errors.ts'
import { isSimulatedPath, tellSimulatedHands } from '../simulation/wire.ts'
import { beginRecording } from './begin-recording.ts'
import { createClock } from './clock.ts'
import { createLink } from './link.ts'
import type { AcquisitionPlan, MarkOrder, Signing } from './messages.ts'
import { openPort } from './port.ts'

export type Acquisition = {
  mark(order: MarkOrder): void
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

  const links = plan.ports.map((port) =>
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
    end,
    conclude,
  }
}
