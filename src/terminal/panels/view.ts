// The state of a run and of the screen into regions of the screen with the lines that each shows. Pure: no clock, no terminal.

import { clipLine, type Line, line } from '../text/line.ts'
import { hasAllowance } from './estimate-panel.ts'
import { fewLines } from './few-lines.ts'
import { helpLines } from './help-lines.ts'
import { type Layout, layoutOf, type Place } from './layout.ts'
import { hasFindings, panelMakers } from './panels.ts'
import { cautionLines, openingLines } from './say-panel.ts'
import type { Region, Shown } from './shown.ts'
import { verdictScreen } from './verdict-screen.ts'

/** The regions of the screen for `shown`; they never overlap. */
export function viewOf(shown: Shown): Region[] {
  const layout = layoutOf(shown.size, hasFindings(shown), hasAllowance(shown))
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
    // What is known of the rig is above them where there is room for both.
    const known = openingLines(shown, width, Math.max(0, height - lines.length))
    const gap = known.length + lines.length < height ? [line('')] : []
    return { region: clipRegion({ rect: { x: 0, y, width, height }, lines: [...known, ...gap, ...lines] }), over }
  }
}

function clipRegion({ rect, lines }: Region): Region {
  return { rect, lines: lines.slice(0, rect.height).map((l) => clipLine(l, rect.width)) }
}
