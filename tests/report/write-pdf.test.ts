// Drawings as a PDF for a printer: a page each, every object where its table says, texts that the fonts have.
import { expect, test } from 'vitest'
import { pdfText, textWidth } from '../../src/report/pdf-text.ts'
import { writePdf } from '../../src/report/write-pdf.ts'

const drawing = [
  '<svg width="960"><title>not drawn</title><defs><pattern id="hatch"><path d="M0,0V8" stroke-opacity="0.35"/></pattern></defs>',
  '<text x="100" y="28" font-size="10" font-weight="bold" text-anchor="end">make (±) &amp; 3 Ω</text>',
  '<text x="20" y="300" transform="rotate(-90 20 300)">up</text>',
  '<g transform="translate(84 68)"><path d="M13.00,-5.00l5,9h-10z" fill="#0f6b6b" stroke="#ffffff"/></g>',
  '<rect x="1" y="2" width="3" height="4" fill="#ffffff" fill-opacity="0.5"/><rect x="1" y="2" width="30" height="4" fill="url(#hatch)"/>',
  '<line x1="1" y1="2" x2="3" y2="4" stroke="#000000" stroke-dasharray="4 2"/><circle cx="5" cy="5" r="1"/></svg>',
].join('\n')

test('each object is where the table says, and there is a page for each drawing', () => {
  const text = writePdf([drawing, drawing]).toString('latin1')
  const table = /startxref\n(\d+)/.exec(text)?.[1]
  expect(text.slice(Number(table)).startsWith('xref\n0 9\n')).toBe(true)
  const places = [...text.matchAll(/^(\d{10}) 00000 n $/gm)].map(([, place]) => Number(place))
  expect(places.map((place, i) => text.slice(place).startsWith(`${i + 1} 0 obj\n`))).toEqual(Array(8).fill(true))
  expect(text).toContain('/Count 2 /Kids [5 0 R 7 0 R]')
  for (const [, length, stream = ''] of text.matchAll(/\/Length (\d+) >>\nstream\n([\s\S]*?)\nendstream/g))
    expect(stream.length).toBe(Number(length))
})

test('marks keep place, colour, dashes and what shows through; what is only named is not drawn', () => {
  const text = writePdf([drawing]).toString('latin1')
  expect(text).not.toContain('not drawn')
  expect(text).toContain('13 -5 m 18 4 l 8 4 l h B')
  expect(text).toContain('/A50 gs 1 1 1 rg 1 2 3 4 re f')
  expect(text).toContain('/A50 << /ca 0.5 /CA 0.5 >>')
  expect(text).toContain('[4 2] 0 d 0 0 0 RG')
  const said = pdfText('make (±) &amp; 3 Ω')
  expect(said).toBe('make (±) & 3 ohm')
  const from = 100 - textWidth(said) * 10
  expect(text).toContain(`/F2 10 Tf 1 0 0 -1 ${Math.round(from * 1000) / 1000} 28 Tm (make \\(±\\) & 3 ohm) Tj`)
  expect(text).toContain('0 -1 -1 0 20 300 Tm (up)')
})

test('every group that is opened is closed', () => {
  const words = writePdf([drawing]).toString('latin1').split(/\s+/)
  expect(words.filter((word) => word === 'q').length).toBe(words.filter((word) => word === 'Q').length)
})

test('a text has one byte a character; what no font has is a question mark', () => {
  expect(pdfText('1 ≤ 2 – 3 … 日')).toBe('1 <= 2 \x96 3 \x85 ?')
})
