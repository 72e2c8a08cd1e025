// Pictures and pages into the codes on them, by a decoder that shares nothing with what drew them.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { createCanvas } from '@napi-rs/canvas'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'

const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
// Given its code, it looks for none on a network.
const ready = prepareZXingModule({
  overrides: { wasmBinary: wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength) as ArrayBuffer },
  fireImmediately: true,
})

/** What a page or a picture is made of: four bytes a dot. */
export type Dots = { data: Uint8ClampedArray; width: number; height: number }

/** The texts of all Data Matrix codes in a picture: the bytes of its file, or its dots. */
export async function readCodes(picture: Uint8Array | Dots): Promise<string[]> {
  await ready
  const found = await readBarcodes(picture as Parameters<typeof readBarcodes>[0], {
    formats: ['DataMatrix'],
    tryHarder: true,
    maxNumberOfSymbols: 255,
  })
  return found.filter(({ isValid }) => isValid).map(({ text }) => text)
}

/** The pages of a PDF as they are printed at so many dots an inch. */
export async function drawPages(bytes: Uint8Array, dpi: number): Promise<Dots[]> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0, disableFontFace: true }).promise
  const pages: Dots[] = []
  for (let i = 1; i <= pdf.numPages; i++) {
    const page = await pdf.getPage(i)
    const viewport = page.getViewport({ scale: dpi / 72 })
    const [width, height] = [Math.round(viewport.width), Math.round(viewport.height)]
    const canvas = createCanvas(width, height)
    const context = canvas.getContext('2d')
    context.fillStyle = '#fff'
    context.fillRect(0, 0, width, height)
    await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise
    pages.push(context.getImageData(0, 0, width, height))
  }
  return pages
}
