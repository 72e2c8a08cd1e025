// A region of the screen into one box of fixed size with one text: what costs the terminal least.
import { Box, Text } from 'ink'
import { paintLine } from '../line.ts'
import type { Region } from '../view.ts'

/** Draws `region` at its place; never larger than its rectangle, whatever its lines hold. */
export function Panel({ region, colours }: { region: Region; colours: boolean }) {
  const { x, y, width, height } = region.rect
  return (
    <Box position="absolute" left={x} top={y} width={width} height={height} flexShrink={0} overflow="hidden">
      <Text>{region.lines.map((l) => paintLine(l, colours)).join('\n')}</Text>
    </Box>
  )
}
