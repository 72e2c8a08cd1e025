// The state of a run and of the screen into regions of the screen with the lines that each shows. Pure: no clock, no terminal.
import type { Live } from '../core/live.ts'
import type { Part } from '../core/part.ts'
import { fewLines } from './few-lines.ts'
import { helpLines } from './help-lines.ts'
import { layoutOf, type Place, type Rect, type Size } from './layout.ts'
import { clipLine, type Line } from './line.ts'
import { panelMakers } from './panels.ts'
import type { ScreenState } from './screen-state.ts'
import type { TraceDots } from './trace.ts'
import { verdictScreen } from './verdict-screen.ts'

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
  /** Stands in place of the row of keys, where somebody else runs them. */
  foot?: Line
  dots: TraceDots
  /** Lines instead of pictures at any size, for a screen reader. */
  calm: boolean
}

/** A part of the screen: at most `rect.height` lines, none wider than `rect.width`. */
export type Region = { rect: Rect; lines: Line[] }

/** The regions of the screen for `shown`; they never overlap. */
export function viewOf(shown: Shown): Region[] {
  const layout = layoutOf(shown.size)
  const whole = (lines: Line[]) => [clipRegion({ rect: layout.all, lines })]
  if (shown.screen.mode === 'help') return whole(helpLines(shown, layout.all))
  if (shown.calm || layout.kind === 'lines') return whole(fewLines(shown, layout.all))
  const { live } = shown
  if (live?.phase === 'ended' && live.result !== null) return whole(verdictScreen(shown, live.result, layout))
  return (Object.keys(panelMakers) as Place[]).flatMap((place) => {
    const rect = layout.places[place]
    return rect ? [clipRegion({ rect, lines: panelMakers[place](shown, rect, layout) })] : []
  })
}

function clipRegion({ rect, lines }: Region): Region {
  return { rect, lines: lines.slice(0, rect.height).map((l) => clipLine(l, rect.width)) }
}
