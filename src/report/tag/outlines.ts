// A text in the font of the PDFs into its width and its outline, for what is drawn dot by dot.
import { openSync } from 'fontkit'
import { fontFile, type Weight } from '../font-file.ts'
import { glyphText } from '../glyph-text.ts'

/** A closed ring of points, in em from the beginning of its glyph's baseline, up positive. */
export type Ring = readonly (readonly [x: number, y: number])[]

/** A glyph of a text: where its outline begins, in em, how far above the baseline, and its rings. */
export type Glyph = { at: number; up: number; rings: readonly Ring[] }

export type Outlines = {
  /** The text with what the font lacks as codes. */
  shown: (text: string) => string
  /** Of what is shown, in em. */
  widthOf: (text: string, weight: Weight) => number
  glyphsOf: (text: string, weight: Weight) => Glyph[]
}

/** What is used of a font. */
type Font = {
  unitsPerEm: number
  hasGlyphForCodePoint: (code: number) => boolean
  layout: (text: string) => {
    advanceWidth: number
    glyphs: readonly { path: { commands: readonly { command: string; args: readonly number[] }[] } }[]
    positions: readonly { xAdvance: number; xOffset: number; yOffset: number }[]
  }
}

/** Straight pieces in place of a curve: at the size of a tag none is longer than half a dot. */
const piecesPerCurve = 8

export function openOutlines(): Outlines {
  const fonts: Record<Weight, Font> = { plain: open('plain'), bold: open('bold') }
  return {
    shown: (text) => glyphText(text, (code) => Object.values(fonts).every((font) => font.hasGlyphForCodePoint(code))),
    widthOf: (text, weight) => fonts[weight].layout(text).advanceWidth / fonts[weight].unitsPerEm,
    glyphsOf(text, weight) {
      const { unitsPerEm, layout } = fonts[weight]
      const { glyphs, positions } = layout.call(fonts[weight], text)
      let x = 0
      return glyphs.map(({ path }, i) => {
        const { xAdvance, xOffset, yOffset } = positions[i]!
        const at = (x + xOffset) / unitsPerEm
        x += xAdvance
        return { at, up: yOffset / unitsPerEm, rings: ringsOf(path.commands, 1 / unitsPerEm) }
      })
    },
  }
}

const open = (weight: Weight): Font => openSync(fontFile(weight)) as unknown as Font

function ringsOf(commands: readonly { command: string; args: readonly number[] }[], scale: number): Ring[] {
  const rings: [number, number][][] = []
  for (const { command, args } of commands) {
    if (command === 'moveTo') rings.push([])
    const ring = rings.at(-1)
    if (ring === undefined || command === 'closePath') continue
    const points: (readonly [number, number])[] = []
    for (let i = 0; i < args.length; i += 2) points.push([args[i]! * scale, args[i + 1]! * scale])
    const from = ring.at(-1)
    if (points.length === 1 || from === undefined) ring.push([...points.at(-1)!])
    else for (let i = 1; i <= piecesPerCurve; i++) ring.push(onCurve([from, ...points], i / piecesPerCurve))
  }
  return rings
}

/** The point of a Bézier curve at `share` of it, by de Casteljau's construction. */
function onCurve(points: readonly (readonly [number, number])[], share: number): [number, number] {
  let left = points.map(([x, y]): [number, number] => [x, y])
  while (left.length > 1)
    left = left.slice(1).map(([x, y], i) => {
      const [fromX, fromY] = left[i]!
      return [fromX + share * (x - fromX), fromY + share * (y - fromY)]
    })
  return left[0]!
}
