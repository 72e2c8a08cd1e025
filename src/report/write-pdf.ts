// Drawings of this program, as SVG, into one PDF for a printer: a page each, A4 across.
import { drawSvg, heightOf } from './draw-svg.ts'
import { openPdf } from './pdf-document.ts'

/** A margin that every printer keeps; common practice, no source. */
const margin = 28

/** The file, named `title`; it is for the printer alone, so that nothing dates it. */
export function writePdf(drawings: readonly string[], title: string): Promise<Buffer> {
  const pdf = openPdf(title, '', 'a4', true)
  const { doc } = pdf
  for (const svg of drawings) {
    doc.addPage()
    const width = doc.page.width - 2 * margin
    const figure = doc.struct('Figure', { alt: descriptionOf(svg) }, () =>
      drawSvg(pdf, svg, margin, (doc.page.height - heightOf(svg, width)) / 2, width),
    )
    doc.addStructure(figure)
    figure.end()
  }
  return pdf.finish()
}

/** What a drawing says of itself to those who do not see it. */
const descriptionOf = (svg: string) => /<desc[^>]*>([^<]*)</.exec(svg)?.[1] ?? ''
