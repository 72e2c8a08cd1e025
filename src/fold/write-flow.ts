// What the guide says is due into marks that the recording process writes: each is sent once, and waited for until it comes back through the file.

import type { Run } from '../core/intake/run.ts'
import type { Live } from '../core/view/live.ts'
import type { MarkOrder } from '../source/acquire.ts'

/** Called with each new state of the run and what is shown of it, which may be a little older. */
export function createFlowWriter(send: (order: MarkOrder) => void): (run: Run, live: Pick<Live, 'guide'>) => void {
  let pending: { order: MarkOrder; before: number } | null = null
  return (run, live) => {
    if (pending !== null) {
      if (countOf(run, pending.order) === pending.before) return
      pending = null
    }
    const { guide } = live
    // What is shown may not yet know of marks that have come since: it would ask for them again.
    if (guide === null || guide.flow === null || guide.marksSeen < run.marks.length) return
    const order: MarkOrder = { ...guide.flow, by: 'flow' }
    pending = { order, before: countOf(run, order) }
    send(order)
  }
}

function countOf({ marks }: Run, { mark, text }: MarkOrder): number {
  return marks.items.slice(0, marks.length).filter((m) => m.mark === mark && m.text === (text ?? null)).length
}
