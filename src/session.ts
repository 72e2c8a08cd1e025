// The one loop: batches of recorded events into states. Live and replay differ in the source and in nothing else.
import type { RecordedEvent } from './core/model/event.ts'

export type Session<State> = {
  source: AsyncIterable<readonly RecordedEvent[]>
  initial: State
  step: (state: State, event: RecordedEvent) => State
  /** Called with the state after each batch. */
  publish?: (state: State) => void
}

/** The state after the last event; `initial` where the source gives none. What the source throws comes out unchanged. */
export async function runSession<State>({ source, initial, step, publish }: Session<State>): Promise<State> {
  let state = initial
  for await (const batch of source) {
    for (const event of batch) state = step(state, event)
    publish?.(state)
  }
  return state
}
