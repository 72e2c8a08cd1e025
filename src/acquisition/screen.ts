// The screen process as seen from here: what is said to it, never more than it takes.
import type { Problem } from '../errors.ts'
import type { Report } from './messages.ts'

export type Screen = {
  /** The file has grown: said at most some thirty times a second, and not again before the last was taken. */
  grown(): void
  /** Says why the recording ends, then calls `then`, at the latest after a second. */
  fault(problem: Problem, then: () => void): void
}

const grownEveryMs = 33
const faultTakenMs = 1000

export function createScreen(): Screen {
  let waiting = false
  let again = false

  function send(report: Report, taken: () => void): void {
    // A channel that breaks while it is written to ends in `disconnect`.
    if (process.connected) process.send?.(report, undefined, {}, taken)
    else taken()
  }
  function grown(): void {
    if (waiting) {
      again = true
      return
    }
    waiting = true
    send({ type: 'grown' }, () => setTimeout(next, grownEveryMs))
  }
  function next(): void {
    waiting = false
    if (!again) return
    again = false
    grown()
  }

  return {
    grown,
    fault({ code, message }, then) {
      send({ type: 'fault', code, text: message }, then)
      setTimeout(then, faultTakenMs)
    },
  }
}
