// A thread of this process into the time that it was ready to run and got no core: a busy machine, and not a thread that hangs.
import { readFileSync } from 'node:fs'

/** That time since the thread began, ms; 0 where the system does not say (all but Linux). `thread`: its number in the system. */
export function waitedForCoreMs(thread: number): number {
  if (thread === 0) return 0
  try {
    // Time on a core, time in the queue for one (both ns), times it got one: proc(5) of the kernel, sched-stats.rst.
    const [, queuedNs = ''] = readFileSync(`/proc/self/task/${thread}/schedstat`, 'latin1').split(' ')
    return Number(queuedNs) / 1e6 || 0
  } catch {
    return 0
  }
}
