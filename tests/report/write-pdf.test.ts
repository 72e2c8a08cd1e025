// Drawings as a PDF for a printer: a page each, marks where they were, texts that an independent reader finds.
import { expect, test } from 'vitest'
import { writePdf } from '../../src/report/write-pdf.ts'
import { readPdf } from '../harness/read-pdf.ts'

const drawing = [
  '<svg width="720" viewBox="0 0 720 440"><title>not drawn</title><desc>Pressure over time</desc><defs><pattern id="hatch"><path d="M0,0V8" stroke-opacity="0.35"/></pattern></defs>',
  '<text x="100" y="28" font-size="10" font-weight="bold" text-anchor="end">make (±) &amp; 3 Ω − ≤</text>',
  '<text x="20" y="300" transform="rotate(-90 20 300)">up 日</text>',
  '<g transform="translate(84 68)"><path d="M13.00,-5.00l5,9h-10z" fill="#0f6b6b" stroke="#ffffff"/></g>',
  '<rect x="1" y="2" width="3" height="4" fill="#ffffff" fill-opacity="0.5"/><rect x="1" y="2" width="30" height="4" fill="url(#hatch)"/>',
  '<line x1="1" y1="2" x2="3" y2="4" stroke="#000000" stroke-dasharray="4 2"/><circle cx="5" cy="5" r="1"/></svg>',
].join('\n')

test('there is a page for each drawing, and its texts are read back, what no font has as its code', async () => {
  const { pages, title, isTagged } = await readPdf(await writePdf([drawing, drawing], 'test 1'))
  expect(pages).toHaveLength(2)
  expect({ title, isTagged }).toEqual({ title: 'test 1', isTagged: true })
  for (const { text, width, height, roles } of pages) {
    expect(width).toBeGreaterThan(height)
    expect(text).toContain('make (±) & 3 Ω − ≤')
    expect(text).toContain('up [U+65E5]')
    expect(text).not.toContain('not drawn')
    expect(roles).toContain('Figure')
  }
})

test('marks keep place, colour, dashes and what shows through', async () => {
  const text = (await writePdf([drawing], 'test')).toString('latin1').replaceAll('\n', ' ')
  expect(text).toContain('13 -5 m 18 4 l 8 4 l h')
  expect(text).toContain('1 2 3 4 re')
  expect(text).toMatch(/\/ca 0\.5\b/)
  expect(text).toContain('[4 2] 0 d 1 2 m 3 4 l')
  expect(text).toContain('/Alt (Pressure over time)')
})

test('every group that is opened is closed', async () => {
  const words = (await writePdf([drawing], 'test')).toString('latin1').split(/\s+/)
  expect(words.filter((word) => word === 'q').length).toBe(words.filter((word) => word === 'Q').length)
})

test('the same drawings give the same bytes', async () => {
  expect(await writePdf([drawing], 'test')).toEqual(await writePdf([drawing], 'test'))
})
