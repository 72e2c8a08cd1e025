// A region of the screen into one box of fixed size with one text: what costs the terminal least.

import { Box, Text, Transform } from 'ink'
import { memo } from 'react'
import type { Region } from '../panels/shown.ts'

import { consoleText, isBareConsole } from '../text/console-signs.ts'
import { bareText, paintLine } from '../text/line.ts'

const shown = isBareConsole() ? consoleText : (text: string) => text

/** Draws `region` at its place; one that has not changed costs nothing. */
export function Panel({ region, colours }: { region: Region; colours: boolean }) {
  const painted = shown(region.lines.map((l) => paintLine(l, colours)).join('\n'))
  return <Rows {...region.rect} painted={painted} bare={region.lines.map(bareText).join('\n')} />
}

type Painted = Region['rect'] & { painted: string; bare: string }

/**
 * Lines fit their rectangle already, so they are handed over as they are, in place of one letter each: measuring every
 * cell of a picture again, and clipping it, costs more than all the rest.
 */
const Rows = memo(function Rows({ x, y, width, height, painted, bare }: Painted) {
  const rows = painted.split('\n')
  return (
    <Box position="absolute" left={x} top={y} width={width} height={height} flexShrink={0}>
      <Transform transform={(_, row) => rows[row] ?? ''} accessibilityLabel={bare}>
        <Text>{rows.map(() => '.').join('\n')}</Text>
      </Transform>
    </Box>
  )
})
