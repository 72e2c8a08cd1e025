import { expect, test } from 'vitest'
import type { Cell, CellStyle } from '../harness/terminal.ts'
import { pictureOf } from './picture.ts'

const plain: CellStyle = { fg: 'default', bg: 'default', bold: false, dim: false, inverse: false }
const cells = (text: string, style: Partial<CellStyle> = {}): Cell[] =>
  [...text].map((c) => ({ ...plain, ...style, text: c }))

test('words stand where their cells stand, however wide the gap before them', () => {
  const picture = pictureOf([cells('make   0.25 inH2O')], 'x')
  const places = [...picture.matchAll(/<text x="(\d+)" [^>]*textLength="(\d+)"[^>]*>([^<]*)</g)].map((m) => m.slice(1))
  const [make, value] = places
  expect(places).toHaveLength(2)
  expect([make![2], value![2]]).toEqual(['make', '0.25 inH2O'])
  const cellWidth = Number(make![1]) / 'make'.length
  expect(Number(value![0]) - Number(make![0])).toBe(7 * cellWidth)
  expect(Number(value![1])).toBe('0.25 inH2O'.length * cellWidth)
})

test('blocks and dots are shapes, one for each part of a cell that is filled', () => {
  const picture = pictureOf([cells('█▁⡇')], 'x')
  expect(picture).not.toContain('<text')
  const [blocks, dots] = [...picture.matchAll(/<path d="([^"]*)"/g)].map((m) => m[1]!)
  expect(blocks!.match(/z/g)).toHaveLength(2)
  // Dots 1, 2, 3 and 7: the whole left column.
  expect(dots!.match(/z/g)).toHaveLength(4)
})

test('colours come out of the palette, the cube and the greys; inverse changes ink and ground', () => {
  const colourOf = (fg: string) => /<text [^>]*fill="(#\w+)"/.exec(pictureOf([cells('a', { fg })], 'x'))![1]
  expect([colourOf('#123456'), colourOf('p16'), colourOf('p231'), colourOf('p244')]).toEqual([
    '#123456',
    '#000000',
    '#ffffff',
    '#808080',
  ])
  const ink = /<text [^>]*fill="(#\w+)"/.exec(pictureOf([cells('a')], 'x'))![1]
  expect(pictureOf([cells('a', { inverse: true })], 'x')).toMatch(new RegExp(`<rect x[^>]*fill="${ink}"/>`))
})

test('what a screen shows cannot end the picture', () => {
  const picture = pictureOf([cells('</svg> & <b>')], '</title>')
  expect(picture).toContain('&lt;/svg&gt; &amp; &lt;b&gt;')
  expect(picture.match(/<\/(svg|title)>/g)).toEqual(['</title>', '</svg>'])
})
