// Title, date and paper into an empty PDF with its fonts: tagged, in a language, not compressed, the same bytes each time.
import PDFDocument from 'pdfkit'
import { fontFile, type Weight } from './font-file.ts'
import { glyphText } from './glyph-text.ts'

export type Paper = 'a4' | 'letter'

export type Pdf = {
  doc: PDFKit.PDFDocument
  /** Sets font and size for what is written next. */
  use: (weight: Weight, size: number) => void
  /** `text` with its characters that the font lacks as codes, such as `[U+65E5]`; they are kept in `lacking`. */
  shown: (text: string) => string
  lacking: Set<string>
  /** Ends it; the whole file. */
  finish: () => Promise<Buffer>
}

/** What fontkit says of a font; pdfkit's types leave it out. */
type OpenFont = { hasGlyphForCodePoint: (code: number) => boolean }

/** `at`: the moment, ISO 8601, that the file is dated; one that cannot be read is the beginning of 1970. */
export function openPdf(title: string, at: string, paper: Paper, across = false): Pdf {
  const parsed = Date.parse(at)
  const when = new Date(Number.isNaN(parsed) ? 0 : parsed)
  const doc = new PDFDocument({
    size: paper === 'a4' ? 'A4' : 'LETTER',
    layout: across ? 'landscape' : 'portrait',
    margin: 0,
    // None at first: one that is opened here is opened again by each use of its name.
    font: '',
    autoFirstPage: false,
    bufferPages: true,
    // Node's own compression differs from version to version.
    compress: false,
    tagged: true,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    info: { Title: title, CreationDate: when, ModDate: when, Producer: 'makebreak', Creator: 'makebreak' },
  })
  doc.registerFont('plain', fontFile('plain')).registerFont('bold', fontFile('bold'))
  const open = (weight: Weight): OpenFont => {
    doc.font(weight)
    return (doc as unknown as { _font: { font: OpenFont } })._font.font
  }
  const fonts = [open('plain'), open('bold')]
  const lacking = new Set<string>()
  const known = new Map<string, string>()
  const hasGlyph = (code: number) => fonts.every((font) => font.hasGlyphForCodePoint(code))
  const pieces: Buffer[] = []
  const ended = new Promise<void>((resolve, reject) => doc.on('end', resolve).on('error', reject))
  doc.on('data', (piece: Buffer) => pieces.push(piece))
  return {
    doc,
    use: (weight, size) => {
      doc.font(weight).fontSize(size)
    },
    shown: (text) =>
      [...text]
        .map((char) => {
          const before = known.get(char)
          if (before !== undefined) return before
          const now = glyphText(char, hasGlyph, (name) => lacking.add(name))
          known.set(char, now)
          return now
        })
        .join(''),
    lacking,
    async finish() {
      doc.end()
      await ended
      return Buffer.concat(pieces)
    },
  }
}
