// All that the live screen shows, as plain data, and the regions that it is drawn in.
import type { Part } from '../../core/model/part.ts'
import type { Live } from '../../core/view/live.ts'
import type { Line } from '../text/line.ts'
import type { Rect, Size } from './layout.ts'
import type { ScreenState } from './screen-state.ts'
import type { TraceDots } from './trace.ts'

/** All that the screen shows comes from here. `title` and `part` may hold any text; it is cleaned before it is shown. */
export type Shown = {
  live: Live | null
  part: Part
  title: string
  simulated: boolean
  size: Size
  screen: ScreenState
  /** The run takes marks; it can be ended from here. */
  marks: boolean
  ends: boolean
  /** There is a bell to switch on and off. */
  rings?: boolean | undefined
  /** Name of the recording's file, told with the verdict. */
  recording?: string | undefined
  /** How many times as fast as real a simulated bench runs; 1 where left out. */
  speed?: number | undefined
  /** What was known before the test, told with the cautions. */
  opening?: readonly string[] | undefined
  /** Takes the place of the row of keys, where somebody else runs them. */
  foot?: Line
  dots: TraceDots
  /** Lines instead of pictures at any size, for a screen reader. */
  calm: boolean
}

/** A part of the screen: at most `rect.height` lines, none wider than `rect.width`. */
export type Region = { rect: Rect; lines: Line[] }
