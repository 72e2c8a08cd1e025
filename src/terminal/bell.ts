// The states of a run into the terminal's bell: one at make, two at break, three when an instrument is lost.
import type { Live } from '../core/view/live.ts'

const ring = '\x07'
/** Rings that are heard one by one, ms. */
const apartMs = 200

/** Rings through `write` when the switch changes between two states of a run that both know it, and when an instrument is lost; never once it has ended. */
export function createBell(write: (bytes: string) => void): (live: Live) => void {
  let before: boolean | null = null
  let heard = true
  const ringTimes = (count: number) => {
    write(ring)
    for (let i = 1; i < count; i++) setTimeout(() => write(ring), i * apartMs).unref()
  }
  return ({ actuated, phase, guide }) => {
    if (phase === 'ended') return
    const lost = guide?.action === 'lost'
    if (lost && heard) ringTimes(3)
    heard = !lost
    if (actuated === null || actuated === before) return
    if (before !== null) ringTimes(actuated ? 1 : 2)
    before = actuated
  }
}
