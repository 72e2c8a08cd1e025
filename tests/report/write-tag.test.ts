// Tags as PDF and PNG: an independent decoder reads each code back, dots are whole, and the same tag gives the same bytes.
import { inflateSync } from 'node:zlib'
import { beforeAll, expect, test } from 'vitest'
import type { ReportInput } from '../../src/report/model/report-input.ts'
import type { Tag } from '../../src/report/model/tag.ts'
import { tagOf } from '../../src/report/model/tag-of.ts'
import { dataMatrix } from '../../src/report/tag/data-matrix.ts'
import { openOutlines } from '../../src/report/tag/outlines.ts'
import { tagLayout, tagMm } from '../../src/report/tag/tag-layout.ts'
import { sheetPlaces, writeTagPdf, writeTagSheet } from '../../src/report/tag/write-tag-pdf.ts'
import { writeTagPng } from '../../src/report/tag/write-tag-png.ts'
import { drawPages, readCodes } from '../harness/read-codes.ts'
import { readPdf } from '../harness/read-pdf.ts'
import { changedInput, goldenInput } from '../harness/sample-report.ts'

const outlines = openOutlines()
let tags: Record<string, Tag>
beforeAll(async () => {
  const good = await goldenInput('good-1')
  const named = (part: Partial<ReportInput['analysis']['setup']['start']['part']>): Tag => {
    const start = good.analysis.setup.start
    const input = changedInput(good, { part: { ...start.part, ...part } })
    return tagOf({ ...input, number: '3F9C 2027 0042', shop: { ...input.shop, name: 'North Hill' } })
  }
  tags = {
    pass: named({}),
    simulated: tagOf(good),
    reject: tagOf({ ...changedInput(await goldenInput('off-high-2')), number: '3F9C 2027 0043' }),
    torn: tagOf(changedInput(await goldenInput('torn-tail'))),
    undecided: tagOf({ ...changedInput(await goldenInput('typed-1')), number: '3F9C 2027 123456789' }),
    long: named({ model: 'W'.repeat(150), serial: 'Z9'.repeat(80) }),
    foreign: named({ model: 'тяга 日本', serial: 'Ж-1047' }),
    arabic: named({ model: 'مفتاح الضغط', serial: 'q\u0323\u0307 47' }),
    hostile: named({ model: '<b>"&amp;\u001b[31m\u202e', serial: `\n) Tj /Evil ${'\ud800'}` }),
  }
})
const names = ['pass', 'simulated', 'reject', 'torn', 'undecided', 'long', 'foreign', 'arabic', 'hostile']

type Png = { width: number; height: number; bits: number; colour: number; dotsPerM: number; rows: boolean[][] }
/** By the chunks of the file itself (ISO/IEC 15948); true is black. */
function readPng(bytes: Buffer): Png {
  const chunks = new Map<string, Buffer>()
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at)
    chunks.set(bytes.toString('latin1', at + 4, at + 8), bytes.subarray(at + 8, at + 8 + length))
    at += length + 12
  }
  const [head, data] = [chunks.get('IHDR')!, inflateSync(chunks.get('IDAT')!)]
  const [width, height] = [head.readUInt32BE(0), head.readUInt32BE(4)]
  const rowBytes = 1 + Math.ceil(width / 8)
  expect(data.length).toBe(rowBytes * height)
  const black = (x: number, y: number) => ((data[y * rowBytes + 1 + (x >> 3)]! >> (7 - (x % 8))) & 1) === 0
  return {
    ...{ width, height, bits: head[8]!, colour: head[9]!, dotsPerM: chunks.get('pHYs')!.readUInt32BE(0) },
    rows: Array.from({ length: height }, (_, y) => Array.from({ length: width }, (_, x) => black(x, y))),
  }
}

test.each(names)(
  'the code of the tag %s is read back from its PNG at each density and from its printed page',
  async (name) => {
    const tag = tags[name]!
    for (const widthMm of [tagMm.width, 62])
      for (const dpi of [203, 300] as const)
        expect(await readCodes(writeTagPng(tag, outlines, dpi, widthMm))).toEqual([tag.code])
    for (const widthMm of [tagMm.width, 62]) {
      const [page] = await drawPages(await writeTagPdf(tag, outlines, widthMm), 300)
      expect(await readCodes(page!)).toEqual([tag.code])
    }
  },
)

test.each([
  [203, 40, 320, 160, 8000],
  [300, 40, 472, 236, 11_811],
  [203, 62, 496, 248, 8000],
  [300, 62, 732, 366, 11_811],
] as const)('at %i dots an inch a tag of %i mm is %i by %i dots, one bit each', (dpi, widthMm, width, height, perM) => {
  const png = readPng(writeTagPng(tags['pass']!, outlines, dpi, widthMm))
  expect(png).toMatchObject({ width, height, bits: 1, colour: 0, dotsPerM: perM })
})

test.each([
  [203, 40],
  [300, 40],
  [203, 62],
] as const)(
  'at %i dots an inch each module of a code %i mm wide is whole dots, with white about it',
  (dpi, widthMm) => {
    for (const tag of Object.values(tags)) {
      const { rows, width, height } = readPng(writeTagPng(tag, outlines, dpi, widthMm))
      const modules = dataMatrix(tag.code)
      const code = tagLayout(tag, outlines).find(({ kind }) => kind === 'code')!
      // The solid left edge of the code is its tallest black line right of where its room begins.
      const from = Math.round((code.x / tagMm.width) * width)
      let [left, top, high] = [0, 0, 0]
      for (let x = from; x < width; x++)
        for (let y = Math.round((code.y / tagMm.height) * height), run = 0; y < height; y++) {
          run = rows[y]![x] ? run + 1 : 0
          if (run > high) [left, top, high] = [x, y - run + 1, run]
        }
      const module = high / modules.length
      expect(module).toBeGreaterThanOrEqual(3)
      expect(Number.isInteger(module)).toBe(true)
      for (let y = -module; y < high + module; y++)
        for (let x = -module; x < high + module; x++) {
          const dark = modules[Math.floor(y / module)]?.[Math.floor(x / module)] ?? false
          expect(rows[top + y]?.[left + x] ?? false).toBe(dark)
        }
    }
  },
)

test('the same tag gives the same bytes, and its page has its own size, title, language and every text', async () => {
  for (const tag of Object.values(tags)) {
    const pdf = await writeTagPdf(tag, outlines)
    expect(pdf.equals(await writeTagPdf(tag, outlines))).toBe(true)
    expect(writeTagPng(tag, outlines, 203).equals(writeTagPng(tag, openOutlines(), 203))).toBe(true)
    const { pages, language, isTagged } = await readPdf(pdf)
    expect({ language, isTagged, count: pages.length }).toEqual({ language: 'en', isTagged: true, count: 1 })
    expect(pages[0]!.width).toBeCloseTo((40 * 72) / 25.4, 1)
    expect(pages[0]!.height).toBeCloseTo((20 * 72) / 25.4, 1)
    const squeezed = pages[0]!.text.replace(/\s+/g, '')
    for (const text of [tag.word, tag.date, tag.reason ?? '', tag.last, ...tag.values])
      expect(squeezed).toContain(text.replace(/\s+/g, ''))
  }
})

test.each(['pass', 'reject', 'simulated', 'foreign', 'arabic'])(
  'the dots of the tag %s are where another program prints those of its page',
  async (name) => {
    const tag = tags[name]!
    const dpi = 300
    const { rows, width, height } = readPng(writeTagPng(tag, outlines, dpi))
    const [page] = await drawPages(await writeTagPdf(tag, outlines), dpi)
    const printed = (x: number, y: number) => page!.data[4 * (y * page!.width + x)]! < 128
    const drawn = (x: number, y: number) => rows[y]?.[x] ?? false
    const code = tagLayout(tag, outlines).find(({ kind }) => kind === 'code')!
    const left = Math.floor((code.x / tagMm.width) * width)
    const top = (code.y / tagMm.height) * height
    const near = (is: typeof drawn, x: number, y: number) =>
      [-2, -1, 0, 1, 2].some((i) => [-2, -1, 0, 1, 2].some((j) => is(x + i, y + j)))
    let [black, missing] = [0, 0]
    for (let y = 2; y < height - 2; y++)
      for (let x = 2; x < (y < top ? width - 2 : left); x++)
        for (const [here, there] of [
          [drawn, printed],
          [printed, drawn],
        ] as const)
          if (here(x, y)) {
            black++
            if (!near(there, x, y)) missing++
          }
    expect(black).toBeGreaterThan(5000)
    expect(missing / black).toBeLessThan(0.002)
  },
)

test('nothing is drawn beyond the edge or over the code, however long a name is', () => {
  for (const tag of Object.values(tags)) {
    const marks = tagLayout(tag, outlines)
    const code = marks.find(({ kind }) => kind === 'code')!
    for (const mark of marks) {
      if (mark.kind !== 'text') continue
      const right = mark.x + outlines.widthOf(mark.text, mark.weight) * mark.sizeMm
      expect(mark.sizeMm).toBeGreaterThan(1.2)
      expect(mark.y).toBeLessThanOrEqual(tagMm.height)
      expect(right).toBeLessThanOrEqual(mark.y > code.y ? code.x : tagMm.width)
    }
  }
})

test('a character that the font lacks is printed as its code, one of another script that it has as it is', async () => {
  const { pages } = await readPdf(await writeTagPdf(tags['foreign']!, outlines))
  expect(pages[0]!.text).toContain('тяга [U+65E5]')
  expect(pages[0]!.text).toContain('serial Ж-1047')
})

test('a sheet has as many as it has places, leaves the used ones free, and every code on it is read', async () => {
  const { all, columns } = sheetPlaces('a4')
  expect({ all, columns }).toEqual({ all: 44, columns: 4 })
  const many = Array.from({ length: 45 }, (_, i) => tags[names[i % names.length]!]!)
  expect(sheetPlaces('letter').all).toBe(40)
  const pages = await drawPages(await writeTagSheet(many, outlines, 'a4', 3), 300)
  expect(pages.map(({ width, height }) => [width, height])).toEqual([
    [2480, 3508],
    [2480, 3508],
  ])
  const codes = await Promise.all(pages.map(readCodes))
  expect(codes.map((each) => each.length)).toEqual([41, 4])
  expect(codes.flat().sort()).toEqual(many.map(({ code }) => code).sort())
})
