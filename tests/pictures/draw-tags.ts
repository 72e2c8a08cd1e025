// `npm run pictures`: four tags as a label printer prints them, into the picture that the read-me shows.
import { writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { tagOf } from '../../src/report/model/tag-of.ts'
import { blankBitmap, fillBox, writePng } from '../../src/report/tag/bitmap.ts'
import { openOutlines } from '../../src/report/tag/outlines.ts'
import { tagMm } from '../../src/report/tag/tag-layout.ts'
import { tagDots } from '../../src/report/tag/write-tag-png.ts'
import { changedInput, goldenInput } from '../harness/sample-report.ts'

const outlines = openOutlines()
const good = await goldenInput('good-1')
const tags = [
  tagOf({ ...changedInput(good), number: '3F9C 2027 0042' }),
  tagOf({ ...changedInput(await goldenInput('off-high-2')), number: '3F9C 2027 0043' }),
  tagOf(good),
  tagOf({ ...changedInput(await goldenInput('typed-1')), number: '3F9C 2027 0044' }),
]

const drawn = tags.map((tag) => tagDots(tag, outlines, 300, tagMm.width))
const [{ width, height }] = drawn as [(typeof drawn)[number]]
const gap = 12
const whole = blankBitmap(2 * width + 3 * gap, 2 * height + 3 * gap)
drawn.forEach(({ dots }, i) => {
  const [left, top] = [gap + (i % 2) * (width + gap), gap + Math.floor(i / 2) * (height + gap)]
  // A thin line about each, for the page that shows them is white.
  fillBox(whole, left - 1, top - 1, width + 2, height + 2)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) whole.dots[(top + y) * whole.width + left + x] = dots[y * width + x]!
})
const path = fileURLToPath(new URL('tags.png', import.meta.url))
writeFileSync(path, writePng(whole, 11_811))
console.log(path)
