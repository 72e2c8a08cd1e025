// Made-up states of a run into the screen as the text a person would read.

import type { Live } from '../../src/core/view/live.ts'
import { initialScreen } from '../../src/terminal/panels/screen-state.ts'
import type { Shown } from '../../src/terminal/panels/shown.ts'
import { viewOf } from '../../src/terminal/panels/view.ts'
import { bareText } from '../../src/terminal/text/line.ts'
import { sampleLive, samplePart } from './sample-lives.ts'

/** The sample run 137 s after its start on a terminal of 80 × 24; `change` overrides its state, `more` what is shown of it. */
export function shownOf(change: Partial<Live> = {}, more: Partial<Shown> = {}): Shown {
  return {
    live: sampleLive(137, change),
    part: samplePart,
    title: 'certify HT-25 T0042',
    simulated: false,
    size: { columns: 80, rows: 24 },
    screen: initialScreen,
    marks: true,
    ends: true,
    dots: 'braille',
    calm: false,
    ...more,
  }
}

/** The screen as text, regions put at their places. */
export function screenOf(shown: Shown): string {
  const rows = Array.from({ length: shown.size.rows }, () => '')
  for (const { rect, lines } of viewOf(shown))
    lines.forEach((l, i) => {
      rows[rect.y + i] = `${rows[rect.y + i]!.padEnd(rect.x)}${bareText(l)}`
    })
  return rows.map((row) => row.trimEnd()).join('\n')
}

export const large = { size: { columns: 140, rows: 45 } }
export const small = { size: { columns: 50, rows: 14 } }
