// A tag into what is drawn where on 40 × 20 mm; a larger one is the same, enlarged.
import type { Weight } from '../font-file.ts'
import type { Tag } from '../model/tag.ts'
import type { Outlines } from './outlines.ts'

export const tagMm = { width: 40, height: 20 } as const

/** All in mm from the upper left corner; a text begins at `x` on its baseline `y`. */
export type TagMark =
  | { kind: 'text'; text: string; x: number; y: number; sizeMm: number; weight: Weight; white: boolean }
  /** Black. */
  | { kind: 'box'; x: number; y: number; width: number; height: number }
  /** The room of the code, quiet zone included. */
  | { kind: 'code'; x: number; y: number; side: number }

// Shop rules: what a label printer keeps free, what is read at arm's length, and a code of half a millimetre a module.
const edge = 0.9
const headHeight = 5
const codeSide = 12.2
const gap = 0.7
const pad = 0.7
/** Smaller letters are not printed whole at 203 dots an inch. */
const smallestMm = 1.5
/** Of DejaVu Sans, in em: how high its capitals are, and how far a line is from the next. */
const capHeight = 0.73
const linePitch = 1.17

type Row = { text: string; sizeMm: number; weight: Weight; white?: boolean }

/** Head, code at the right, and the lines at its left. */
export function tagLayout(tag: Tag, outlines: Outlines): TagMark[] {
  const inner = tagMm.width - 2 * edge
  const top = edge + headHeight
  const high = tagMm.height - edge - top
  return [
    ...head(tag, outlines, inner),
    { kind: 'code', x: tagMm.width - edge - codeSide, y: top + high - codeSide, side: codeSide },
    ...column(tag, outlines, { x: edge, y: top + gap / 2, width: inner - codeSide - gap, height: high - gap / 2 }),
  ]
}

/** A band where it warns, else the word above a line; at its right whose it is, or what not to do, and the day. */
function head(tag: Tag, outlines: Outlines, inner: number): TagMark[] {
  const white = tag.warns
  const box: TagMark = white
    ? { kind: 'box', x: edge, y: edge, width: inner, height: headHeight }
    : { kind: 'box', x: edge, y: edge + headHeight - 0.3, width: inner, height: 0.3 }
  const inset = white ? pad : 0
  const height = white ? headHeight : headHeight - 0.5
  const right = [tag.beside, tag.date]
    .filter((text) => text !== null)
    .map((text, i, all): Row => ({ text, sizeMm: 1.9, weight: white && i < all.length - 1 ? 'bold' : 'plain', white }))
    .map((row) => fitted(outlines, row, inner / 2))
  const rightWidth = Math.max(...right.map((row) => widthOf(outlines, row)))
  const left = inner - 2 * inset - rightWidth - 2 * gap
  const words = wordRows(tag.word, outlines, left).map((row) => ({ ...row, white }))
  return [
    box,
    // One alone a little up: a J goes below the line.
    ...stacked(words, words.length > 1 ? edge : edge - 0.15, height, () => edge + inset),
    ...stacked(right, edge, height, (row) => tagMm.width - edge - inset - widthOf(outlines, row)),
  ]
}

/** In one row, and where that would be small in one for each of its words. */
function wordRows(word: string, outlines: Outlines, widthMm: number): Row[] {
  const one = fitted(outlines, { text: word, sizeMm: 4.2, weight: 'bold' }, widthMm)
  if (one.sizeMm >= 3 || !word.includes(' ')) return [one]
  return word.split(' ').map((text) => fitted(outlines, { text, sizeMm: 2.15, weight: 'bold' }, widthMm))
}

/** Rows one below the other, in the middle of a height. */
function stacked(rows: readonly Row[], top: number, height: number, xOf: (row: Row) => number): TagMark[] {
  const pitch = linePitch * Math.max(...rows.map(({ sizeMm }) => sizeMm))
  const capitals = capHeight * rows.at(-1)!.sizeMm
  const first = top + (height + capitals - (rows.length - 1) * pitch) / 2
  return rows.map((row, i) => textMark(row, xOf(row), first + i * pitch))
}

/** What is told beside the code, as large as there is room. */
function column(tag: Tag, outlines: Outlines, at: { x: number; y: number; width: number; height: number }): TagMark[] {
  const rows = rowsOf(tag, outlines, at.width).map((row) => fitted(outlines, row, at.width - (row.white ? pad : 0)))
  const high = rows.reduce((sum, { sizeMm }) => sum + sizeMm * linePitch, 0)
  const scale = Math.min(1, at.height / high)
  // What is left over lies between the rows.
  const between = (at.height - high * scale) / rows.length
  let y = at.y
  return rows.flatMap((row): TagMark[] => {
    const [sizeMm, from] = [row.sizeMm * scale, y]
    y += sizeMm * linePitch + between
    const baseline = from + (y - from + capHeight * sizeMm) / 2
    const text = textMark({ ...row, sizeMm }, row.white ? at.x + pad / 2 : at.x, baseline)
    return row.white ? [{ kind: 'box', x: at.x, y: from, width: at.width, height: y - from }, text] : [text]
  })
}

function rowsOf({ reason, model, serial, values, unit, last, again }: Tag, outlines: Outlines, widthMm: number): Row[] {
  const row = (sizeMm: number, weight: Weight) => (text: string) => ({ text, sizeMm, weight })
  const both = row(1.8, 'bold')(`${model}, ${serial}`)
  // Where there is much to say, part and serial number share a row if they can.
  const joined = reason !== null && outlines.widthOf(outlines.shown(both.text), 'bold') * both.sizeMm <= widthMm
  return [
    ...(reason === null ? [] : [reason]).map(row(2.2, 'bold')),
    ...(joined ? [both] : [model, serial].map(row(2.1, 'bold'))),
    ...values.map(row(2, 'plain')),
    ...(unit === null ? [] : [unit]).map(row(1.75, 'plain')),
    { ...row(2, 'bold')(last), ...(again && { white: true }) },
  ]
}

const widthOf = (outlines: Outlines, { text, sizeMm, weight }: Row) => outlines.widthOf(text, weight) * sizeMm

const textMark = ({ text, sizeMm, weight, white = false }: Row, x: number, y: number): TagMark => ({
  ...{ kind: 'text', text, x, y, sizeMm, weight, white },
})

/** A row no wider than `widthMm`: its letters smaller, and where that is not enough its end left out and three points there. */
function fitted(outlines: Outlines, row: Row, widthMm: number): Row {
  const { weight } = row
  const text = outlines.shown(row.text)
  const wide = outlines.widthOf(text, weight)
  const sizeMm = Math.min(row.sizeMm, widthMm / wide)
  if (sizeMm >= Math.min(smallestMm, row.sizeMm)) return { ...row, text, sizeMm }
  const chars = [...text]
  let kept = chars.length
  const cut = () => `${chars.slice(0, kept).join('')}…`
  while (kept > 0 && outlines.widthOf(cut(), weight) * smallestMm > widthMm) kept--
  return { ...row, text: cut(), sizeMm: smallestMm }
}
