// What a live screen is given and gives back, drawn or told in lines.
import type { EndReason } from '../core/model/event.ts'
import type { MarkName } from '../core/model/marks.ts'
import type { Part } from '../core/model/part.ts'
import type { TypedOrder } from '../core/model/typed.ts'
import type { Paper } from './panels/screen-state.ts'
import type { Store } from './store.ts'

export type LiveOptions = {
  part: Part
  /** One line that names the test; may hold any text. */
  title: string
  /** The recording comes from a simulated bench: said in every view. */
  simulated: boolean
  store: Store
  /** Name of the recording's file; left out where there is none of this test. */
  recording?: string
  /** A mark for the recording; left out where nothing can be marked, as in a replay. */
  onMark?: (mark: MarkName, text?: string) => void
  /** What an instrument without a port shows; left out where nothing can be typed. */
  onTyped?: (order: TypedOrder) => void
  /** The bell is to ring, or not; left out where there is none, as in a replay. */
  onSound?: (on: boolean) => void
  /** What is known before the test, told with the cautions. */
  opening?: readonly string[]
  /** How many times as fast as real a simulated bench runs. */
  speed?: number
  /** The operator ends the test. The screen stays until the store says `ended`; left out, q leaves at once. */
  onEnd?: (reason: Extract<EndReason, 'finished' | 'abandoned'>) => void
  /** The screen is left, for the same test once more; left out where that is not possible. */
  onRepeat?: () => void
  /** The screen is left, and a paper is to be made of the recording; left out where there is none. */
  onPaper?: (paper: Paper) => void
  /** The screen is left, for a test under this serial number in place of the part's. */
  onSerial?: (serial: string) => void
}

/** How the screen went away: by a key, by `close()`, or by a signal to end the program. */
export type LiveExit = { by: 'key' | 'close' | 'signal' }

export type LiveScreen = {
  /** Whether the verdict was told in lines, which stay on the terminal. */
  told: () => boolean
  /** Resolves when the terminal has been given back; rejects on a fault of the screen itself. */
  done: Promise<LiveExit>
  /** Takes the screen away; a second call does nothing. */
  close: () => void
}
