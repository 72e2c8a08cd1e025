// A line whose readings are to be compared with a display: heard, or asked in turn, in the background while a person types.
import { setTimeout as wait } from 'node:timers/promises'
import type { Piece } from '../../learn/heard.ts'
import type { Line } from '../open-line.ts'

/** So long before an answer is looked at: as long as it takes to read a display and type it. */
const windowMs = 4000
const listenMs = 100
const answerMs = 500

export type Watched = {
  /** What came in the last seconds, at least one round of the queries. */
  last(): Piece[]
  /** Rejects once the port has gone. */
  gone: Promise<never>
  /** Resolves once what came is `enough`, or no more is to be waited for. */
  fresh(enough: (pieces: readonly Piece[]) => boolean): Promise<void>
  stop(): Promise<void>
}

/** Watches until `stop`. `queries`: what is sent, in turn; none for an instrument that sends by itself. */
export function watchLine(line: Line, queries: readonly string[]): Watched {
  let over = false
  let kept: Piece[] = []
  let roundMs = windowMs
  const work = (async () => {
    while (!over) {
      const beganMs = performance.now()
      for (const query of queries.length > 0 ? queries : [null]) {
        if (over) return
        kept.push(...(query === null ? await line.listen(listenMs) : await line.ask(query, answerMs)))
      }
      const nowMs = performance.now()
      roundMs = Math.max(windowMs, 2 * (nowMs - beganMs))
      // Queries may go on at once; a meter is not asked more often than it measures.
      if (queries.length === 1) await line.listen(listenMs)
      kept = since(kept, nowMs - roundMs)
    }
  })()
  const gone = new Promise<never>((_, fail) => {
    work.catch(fail)
  })
  // It may be gone while nobody waits for that.
  gone.catch(() => {
    over = true
  })
  return {
    gone,
    last: () => since(kept, performance.now() - roundMs),
    async fresh(enough) {
      const untilMs = performance.now() + windowMs
      while (!enough(kept) && !over && performance.now() < untilMs) await wait(listenMs)
    },
    async stop() {
      over = true
      await work.catch(() => {})
    },
  }
}

/** A query goes with what came after it. */
function since(pieces: readonly Piece[], fromMs: number): Piece[] {
  const first = pieces.findIndex(({ atMs }) => atMs >= fromMs)
  return first < 0 ? [] : pieces.slice(first)
}
