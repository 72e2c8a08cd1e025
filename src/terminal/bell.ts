// The states of a run into the terminal's bell: one at make, two at break.
import type { Live } from '../core/view/live.ts'

const ring = '\x07'
/** Two rings that are heard as two, ms. */
const apartMs = 200

/** Rings through `write` when the switch changes between two states of a run that both know it; never once it has ended. */
export function createBell(write: (bytes: string) => void): (live: Live) => void {
  let before: boolean | null = null
  return ({ actuated, phase }) => {
    if (phase === 'ended') return
    if (actuated === null || actuated === before) return
    if (before !== null) {
      write(ring)
      if (!actuated) setTimeout(() => write(ring), apartMs).unref()
    }
    before = actuated
  }
}
