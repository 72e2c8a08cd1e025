// The state of a run and of the screen into regions of the screen with the lines that each shows. Pure: no clock, no terminal.
import type { Live } from '../core/live.ts'
import type { Part } from '../core/part.ts'
import { fewLines } from './few-lines.ts'
import { helpLines } from './help-lines.ts'
import { type Layout, layoutOf, type Place, type Rect, type Size } from './layout.ts'
import { clipLine, type Line, line } from './line.ts'
import { hasFindings, panelMakers } from './panels.ts'
import { cautionLines, openingLines } from './say-panel.ts'
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
  /** There is a bell to switch on and off. */
  rings?: boolean | undefined
  /** How many times as fast as real a simulated bench runs; 1 where left out. */
  speed?: number | undefined
  /** What was known before the test, told with the cautions. */
  opening?: readonly string[] | undefined
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
  const layout = layoutOf(shown.size, hasFindings(shown))
  const whole = (lines: Line[]) => [clipRegion({ rect: layout.all, lines })]
  if (shown.screen.mode === 'help') return whole(helpLines(shown, layout.all))
  if (shown.calm || layout.kind === 'lines') return whole(fewLines(shown, layout.all))
  const { live } = shown
  if (live?.phase === 'ended' && live.result !== null) return whole(verdictScreen(shown, live.result, layout))
  const waiting = (live?.guide?.cautions.length ?? 0) > 0 ? cautionsOver(shown, layout) : null
  const regions = (Object.keys(panelMakers) as Place[]).flatMap((place) => {
    const rect = layout.places[place]
    return rect && !waiting?.over.includes(place)
      ? [clipRegion({ rect, lines: panelMakers[place](shown, rect, layout) })]
      : []
  })
  return waiting ? [...regions, waiting.region] : regions
}

/** What gives way to the cautions, first what is not known before the first stroke, then as much as they need. */
const givesWay: readonly (readonly Place[])[] = [
  ['trace', 'loop', 'estimates', 'bands', 'cycles', 'findings'],
  ['hand'],
  ['pressure', 'contact'],
  ['say'],
]

/** The cautions in a region that holds them whole, and the places that it takes. */
function cautionsOver(shown: Shown, layout: Layout): { region: Region; over: readonly Place[] } {
  const { width } = layout.all
  const lines = cautionLines(shown, width)
  for (let count = 1; ; count++) {
    const over = givesWay.slice(0, count).flat()
    const rects = over.flatMap((place) => layout.places[place] ?? [])
    const y = Math.min(...rects.map((r) => r.y))
    const height = Math.max(...rects.map((r) => r.y + r.height)) - y
    if (height < lines.length && count < givesWay.length) continue
    // What is known of the rig stands above them where there is room for both.
    const known = openingLines(shown, width, Math.max(0, height - lines.length))
    const gap = known.length + lines.length < height ? [line('')] : []
    return { region: clipRegion({ rect: { x: 0, y, width, height }, lines: [...known, ...gap, ...lines] }), over }
  }
}

function clipRegion({ rect, lines }: Region): Region {
  return { rect, lines: lines.slice(0, rect.height).map((l) => clipLine(l, rect.width)) }
}
