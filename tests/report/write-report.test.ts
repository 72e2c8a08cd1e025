// Reports as HTML and PDF: all that the model says is in them, on pages of their size, whatever is typed into a name.
import { beforeAll, expect, test } from 'vitest'
import { endOfReport, notRecorded, type Report } from '../../src/report/model/report.ts'
import type { ReportInput } from '../../src/report/model/report-input.ts'
import { reportOf } from '../../src/report/model/report-of.ts'
import { summaryOf } from '../../src/report/model/summary-of.ts'
import { writeReportHtml } from '../../src/report/write-report-html.ts'
import { writeReportPdf } from '../../src/report/write-report-pdf.ts'
import { writeReportText } from '../../src/report/write-report-text.ts'
import { readPdf } from '../harness/read-pdf.ts'
import { changedInput, customerInput, factOf, goldenInput, tableOf } from '../harness/sample-report.ts'

let simulated: ReportInput
let real: ReportInput
beforeAll(async () => {
  simulated = await goldenInput('good-1')
  real = changedInput(simulated)
})

const squeezed = (text: string) => text.replace(/\s+/g, '')

/** Every text of a report in the order of its reading. */
function textsOf({ title, subject, stamp, verdict, sections }: Report): string[] {
  const blocks = sections.flatMap(({ heading, blocks }) => [
    heading,
    ...blocks.flatMap((block) => {
      if (block.kind === 'facts') return block.facts.flatMap(({ label, value }) => [label, value ?? notRecorded])
      if (block.kind === 'sentences') return block.sentences
      return block.kind === 'table' ? [...block.head, ...block.rows.flat()] : []
    }),
  ])
  return [
    title,
    subject,
    ...(stamp ? [stamp] : []),
    ...(verdict ? [verdict.word, ...verdict.sentences] : []),
    ...blocks,
    endOfReport,
  ]
}

test.each(['a4', 'letter'] as const)(
  'the PDF on %s holds every text of the report, on pages of that size',
  async (paper) => {
    const report = reportOf(real)
    const { pages, title, language, isTagged } = await readPdf(await writeReportPdf(report, paper))
    const text = squeezed(pages.map((page) => page.text).join(''))
    for (const each of textsOf(report)) expect(text).toContain(squeezed(each))
    expect({ title, language, isTagged }).toEqual({
      title: 'Test report: HL-Proving 1, serial 0417',
      language: 'en',
      isTagged: true,
    })
    const size = paper === 'a4' ? [595.28, 841.89] : [612, 792]
    for (const [i, page] of pages.entries()) {
      expect([page.width, page.height]).toEqual(size)
      expect(page.text).toContain(`page ${i + 1} of ${pages.length}`)
      expect(page.text).toContain(report.foot)
      expect(page.text).not.toContain('SIMULATED')
    }
    const roles = pages.flatMap((page) => page.roles)
    for (const role of ['H1', 'H2', 'P', 'Table', 'TR', 'TH', 'TD', 'Figure']) expect(roles).toContain(role)
  },
)

test('a stamp is on every page of the PDF, and in the title of the file', async () => {
  const { pages, title } = await readPdf(await writeReportPdf(reportOf(simulated), 'a4'))
  expect(title).toMatch(/^SIMULATED/)
  for (const { text } of pages) expect(text.match(/SIMULATED/g)!.length).toBeGreaterThan(1)
})

test('the same report gives the same bytes', async () => {
  const report = reportOf(real)
  expect(await writeReportPdf(report, 'a4')).toEqual(await writeReportPdf(report, 'a4'))
})

test('a glyph that the font lacks is printed as its code, and that is told', async () => {
  const { part } = real.analysis.setup.start
  const report = reportOf(changedInput(simulated, { part: { ...part, model: 'ΩЖ日' } }))
  const text = (await readPdf(await writeReportPdf(report, 'a4'))).pages.map((page) => page.text).join(' ')
  expect(text).toContain('ΩЖ[U+65E5]')
  expect(text).toContain('printed as their code: U+65E5.')
})

test('words that are read from the right lie from the right to the left, so that a reader of the PDF finds them in order', async () => {
  const { part } = real.analysis.setup.start
  const report = reportOf(changedInput(simulated, { part: { ...part, model: 'מפעל גדול 12', lot: 'שלום x עולם' } }))
  const { text } = (await readPdf(await writeReportPdf(report, 'a4'))).pages[0]!
  expect(text).toContain('מפעל גדול Model 12')
  expect(text).not.toMatch(/גדול מפעל/)
})

test('a name of 5000 characters and controls neither runs off the page nor breaks the markup', async () => {
  const { part } = real.analysis.setup.start
  const hostile = `<script>\u001b[2J"&\u202e${'W'.repeat(5000)}`
  const report = reportOf(changedInput(simulated, { part: { ...part, model: hostile, serial: hostile } }))
  const { pages } = await readPdf(await writeReportPdf(report, 'a4'))
  expect(pages.length).toBeLessThanOrEqual(6)
  const html = writeReportHtml(report)
  expect(html).not.toContain('<script')
  expect(html).not.toContain('\u001b')
  expect(html).toContain('&lt;script&gt;')
  expect(
    (
      await readPdf(
        await writeReportPdf(
          summaryOf([real, changedInput(simulated, { part: { ...part, serial: hostile } })]),
          'letter',
        ),
      )
    ).pages,
  ).toHaveLength(1)
})

test.each(['a4', 'letter'] as const)('a signed test of ten cycles has one page on %s', async (paper) => {
  const report = reportOf(customerInput(simulated))
  expect(tableOf(report, 'Stroke').filter((row) => row.at(-1) === 'counted')).toHaveLength(10)
  const { pages } = await readPdf(await writeReportPdf(report, paper))
  expect(pages).toHaveLength(1)
  expect(pages[0]!.text).toMatch(/End of the report .* page 1 of 1$/)
})

test('nothing is written beyond the margins or over the foot, whatever the report', async () => {
  const { part } = real.analysis.setup.start
  const wide = changedInput(simulated, { part: { ...part, model: 'W'.repeat(300), lot: 'x y '.repeat(60) } })
  for (const paper of ['a4', 'letter'] as const)
    for (const input of [customerInput(simulated), wide])
      for (const { places, width, height } of (await readPdf(await writeReportPdf(reportOf(input), paper))).pages)
        for (const { text, x, y, right } of places.filter(({ upright }) => upright)) {
          expect(x, text).toBeGreaterThan(27)
          expect(right, text).toBeLessThan(width - 26)
          expect(y, text).toBeGreaterThan(27)
          expect(y, text).toBeLessThan(height - 27)
        }
})

test('the shop, its address and its logo are at the head of each form, and only where they are stated', async () => {
  const [stated, none] = [reportOf(customerInput(simulated)), reportOf(real)]
  const page = (await readPdf(await writeReportPdf(stated, 'a4'))).pages[0]!
  expect(page.text.indexOf('Hollin Lane workshop')).toBeLessThan(page.text.indexOf('PASS'))
  expect(page.images).toBe(1)
  expect((await readPdf(await writeReportPdf(none, 'a4'))).pages[0]!.images).toBe(0)
  const html = writeReportHtml(stated)
  expect(html).toMatch(/<img class="logo" alt="Logo" src="data:image\/png;base64,[A-Za-z0-9+/=]+"\/>/)
  expect(html.indexOf('Hollin Lane workshop')).toBeLessThan(html.indexOf('PASS'))
  expect(writeReportHtml(none)).not.toContain('<img')
  expect(writeReportText(stated).split('\n').slice(0, 2)).toEqual(['Hollin Lane workshop', '4 Hollin Lane, Northwick'])
  expect(factOf(none, 'Shop')).toBeNull()
})

test('a report of 400 strokes goes on over pages that each repeat the head of the table', async () => {
  const { cycles } = real.result
  const many = Array.from({ length: 400 }, (_, i) => ({ ...cycles[i % cycles.length]!, stroke: i + 1 }))
  const { pages } = await readPdf(await writeReportPdf(reportOf(changedInput(simulated, {}, { cycles: many })), 'a4'))
  const withHead = pages.filter(({ text }) => text.includes('Stroke Make'))
  expect(withHead.length).toBeGreaterThanOrEqual(3)
  expect(pages.some(({ text }) => / 400 /.test(text))).toBe(true)
})

test('the HTML holds every text of the report, needs no other file, and no id is there twice', () => {
  const report = reportOf(simulated)
  const html = writeReportHtml(report)
  const text = squeezed(
    html
      .replace(/<style>[\s\S]*?<\/style>/, '')
      .replace(/<wbr>/g, '')
      .replace(/<[^>]*>/g, ' ')
      .replaceAll('&lt;', '<')
      .replaceAll('&gt;', '>')
      .replaceAll('&quot;', '"')
      .replaceAll('&amp;', '&'),
  )
  for (const each of textsOf(report)) expect(text).toContain(squeezed(each))
  expect(html).not.toMatch(/<(link|script|img|iframe)\b|@import|https?:\/\/(?!www\.w3\.org\/2000\/svg")/)
  const ids = [...html.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id)
  expect(new Set(ids).size).toBe(ids.length)
  for (const [, id] of html.matchAll(/url\(#([^)]*)\)/g)) expect(ids).toContain(id)
})
