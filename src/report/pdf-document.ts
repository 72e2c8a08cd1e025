// Title, date and paper into an empty PDF with its fonts: tagged, in a language, not compressed, the same bytes each time.
import PDFDocument from 'pdfkit'
import type { Paper } from '../core/model/paper-forms.ts'
import type { Picture } from './decode-png.ts'
import { fontFile, type Weight } from './font-file.ts'
import { glyphText } from './glyph-text.ts'

export type Pdf = {
  doc: PDFKit.PDFDocument
  /** Sets font and size for what is written next. */
  use: (weight: Weight, size: number) => void
  /** How wide `text` is, in points. */
  measure: (weight: Weight, size: number, text: string) => number
  /** `picture` with its upper left corner at x, y. */
  image: (picture: Picture, x: number, y: number, width: number, height: number) => void
  /** `text` with its characters that the font lacks as codes, such as `[U+65E5]`; they are kept in `lacking`. */
  shown: (text: string) => string
  lacking: Set<string>
  /** Ends it; the whole file. */
  finish: () => Promise<Buffer>
}

/** What pdfkit keeps of a font once it is open, and takes in place of a file; its types leave it out. */
type OpenFont = {
  hasGlyphForCodePoint: (code: number) => boolean
  layout: (text: string, features?: unknown) => Laid
}
type Laid = { positions: readonly object[] }

/** Fonts that were opened before, and widths of words at size 1: a lot of reports has the same ones. */
const openFonts: Partial<Record<Weight, OpenFont>> = {}
const widths = { plain: new Map<string, number>(), bold: new Map<string, number>() }

/** Words beyond so many are measured each time: names that come once fill no memory. */
const mostWords = 20_000

/** `font`, which lays out each text once: most come again, in this report or the next. */
function remembering(font: OpenFont): OpenFont {
  const laid = new Map<string, Laid>()
  const lay = (text: string, features?: unknown): Laid => {
    if (features !== undefined) return font.layout(text, features)
    const known = laid.get(text) ?? font.layout(text)
    if (laid.size < mostWords) laid.set(text, known)
    // Whoever gets it changes its positions.
    const positions = known.positions.map((position) =>
      Object.assign(Object.create(Object.getPrototypeOf(position)), position),
    )
    return Object.assign(Object.create(Object.getPrototypeOf(known)), known, { positions })
  }
  return Object.assign(Object.create(font), { layout: lay })
}

function openFont(weight: Weight): OpenFont {
  const doc = new PDFDocument({ font: '', autoFirstPage: false }).font(fontFile(weight))
  return (doc as unknown as { _font: { font: OpenFont } })._font.font
}

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
  const open = (weight: Weight): OpenFont => {
    const known = openFonts[weight] ?? remembering(openFont(weight))
    openFonts[weight] = known
    doc.registerFont(weight, known as unknown as string).font(weight)
    return known
  }
  const fonts = [open('plain'), open('bold')]
  const lacking = new Set<string>()
  const known = new Map<string, string>()
  const hasGlyph = (code: number) => fonts.every((font) => font.hasGlyphForCodePoint(code))
  const use = (weight: Weight, size: number) => {
    doc.font(weight).fontSize(size)
  }
  const wordWidth = (weight: Weight, word: string): number => {
    const found = widths[weight].get(word)
    if (found !== undefined) return found
    use(weight, 1000)
    const width = doc.widthOfString(word) / 1000
    if (widths[weight].size < mostWords) widths[weight].set(word, width)
    return width
  }
  const measure = (weight: Weight, size: number, text: string) => {
    const words = text === ' ' ? [' '] : text.split(' ')
    const sum = words.reduce((all, word) => all + (word === '' ? 0 : wordWidth(weight, word)), 0)
    return size * (sum + (words.length - 1) * wordWidth(weight, ' '))
  }
  let images = 0
  /** Its bytes as they are: Node's own compression differs from version to version. */
  const image: Pdf['image'] = ({ width: across, height: down, channels, pixels }, x, y, width, height) => {
    const name = `Logo${++images}`
    const ref = doc.ref({
      ...{ Type: 'XObject', Subtype: 'Image', Width: across, Height: down, BitsPerComponent: 8 },
      ColorSpace: channels === 1 ? 'DeviceGray' : 'DeviceRGB',
    })
    ref.end(pixels)
    const { xobjects } = doc.page as unknown as { xobjects: Record<string, unknown> }
    xobjects[name] = ref
    doc.save().transform(width, 0, 0, -height, x, y + height)
    doc.addContent(`/${name} Do`)
    doc.restore()
  }
  const pieces: Buffer[] = []
  const ended = new Promise<void>((resolve, reject) => doc.on('end', resolve).on('error', reject))
  doc.on('data', (piece: Buffer) => pieces.push(piece))
  return {
    doc,
    ...{ use, measure, image },
    // Every font has the letters of ASCII, and most texts have no others.
    shown: (text) =>
      /^[ -~]*$/.test(text)
        ? text
        : [...text]
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
