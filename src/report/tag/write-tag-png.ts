// A tag into a picture for a label printer: one bit a dot, in whole dots of the printer.
import type { Tag } from '../model/tag.ts'
import { type Bitmap, blankBitmap, fillBox, fillOutline, writePng } from './bitmap.ts'
import { dataMatrix } from './data-matrix.ts'
import type { Outlines } from './outlines.ts'
import { tagLayout, tagMm } from './tag-layout.ts'

/** Dots a metre by the dots an inch that printers are sold with: 203 means eight a millimetre. */
export const dotsPerM = { 203: 8000, 300: 11_811 } as const
export type Dpi = keyof typeof dotsPerM

/** `widthMm`: of the label; its height follows. */
export function writeTagPng(tag: Tag, outlines: Outlines, dpi: Dpi, widthMm: number = tagMm.width): Buffer {
  return writePng(tagDots(tag, outlines, dpi, widthMm), dotsPerM[dpi])
}

export function tagDots(tag: Tag, outlines: Outlines, dpi: Dpi, widthMm: number): Bitmap {
  const perMm = dotsPerM[dpi] / 1000
  const scale = (widthMm / tagMm.width) * perMm
  const dots = (mm: number) => Math.round(mm * scale)
  const bitmap = blankBitmap(Math.round(widthMm * perMm), Math.round((widthMm / tagMm.width) * tagMm.height * perMm))
  for (const mark of tagLayout(tag, outlines)) {
    const { x, y } = mark
    if (mark.kind === 'box') fillBox(bitmap, dots(x), dots(y), dots(mark.width), dots(mark.height))
    else if (mark.kind === 'text') {
      const size = mark.sizeMm * scale
      // Whole dots for each letter and each baseline, so that the same letter looks the same everywhere.
      for (const { at, up, rings } of outlines.glyphsOf(mark.text, mark.weight))
        fillOutline(
          bitmap,
          rings,
          Math.round(x * scale + at * size),
          dots(y) - Math.round(up * size),
          size,
          mark.white ? 0 : 1,
        )
    } else drawCode(bitmap, tag.code, dots(x), dots(y), Math.floor(mark.side * scale))
  }
  return bitmap
}

/** As large as whole dots a module leave it, a module's width of white about it. */
function drawCode(bitmap: Bitmap, text: string, x: number, y: number, side: number): void {
  const modules = dataMatrix(text)
  const module = Math.floor(side / (modules.length + 2))
  const from = Math.floor((side - modules.length * module) / 2)
  modules.forEach((row, i) => {
    row.forEach((dark, j) => {
      if (dark) fillBox(bitmap, x + from + j * module, y + from + i * module, module, module)
    })
  })
}
