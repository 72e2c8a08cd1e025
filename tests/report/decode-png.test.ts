// Logos: pixels out of PNG files of every kind that a shop may have, and a clause for what is none.
import { expect, test } from 'vitest'
import { decodePng, shrink } from '../../src/report/decode-png.ts'
import { encodePng } from '../harness/encode-png.ts'

const [width, height] = [7, 11]
const grey = (x: number, y: number) => (x * 31 + y * 17) % 256

const pixelsOf = (png: Buffer) => {
  const picture = decodePng(png)
  if ('why' in picture) throw new Error(picture.why)
  return picture
}

test.each([
  ['grey', 0, (x: number, y: number) => [grey(x, y)], 1],
  ['colours', 2, (x: number, y: number) => [grey(x, y), x, y], 3],
])('%s come out as they went in, through every filter', (_, colour, at, channels) => {
  const picture = pixelsOf(encodePng(width, height, colour, at))
  expect(picture).toMatchObject({ width, height, channels })
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      expect([...picture.pixels.subarray((y * width + x) * channels, (y * width + x + 1) * channels)]).toEqual(at(x, y))
})

test('what is transparent is white, by an alpha, a palette or a named colour', () => {
  const half = pixelsOf(encodePng(2, 1, 6, (x) => [10, 20, 30, x === 0 ? 0 : 255]))
  expect([...half.pixels]).toEqual([255, 255, 255, 10, 20, 30])
  const greyed = pixelsOf(encodePng(2, 1, 4, (x) => [100, x === 0 ? 128 : 255]))
  expect([...greyed.pixels]).toEqual([Math.round((100 * 128 + 255 * 127) / 255), 100])
  const palette = pixelsOf(encodePng(2, 1, 3, (x) => [x], { palette: [1, 2, 3, 4, 5, 6], clear: [255, 0] }))
  expect([...palette.pixels]).toEqual([1, 2, 3, 255, 255, 255])
  const named = pixelsOf(encodePng(2, 1, 0, (x) => [x], { clear: [0, 1] }))
  expect([...named.pixels]).toEqual([0, 255])
})

test('what is no PNG file, damaged, interlaced or too large says so with its value and the limit', () => {
  const good = encodePng(width, height, 0, (x, y) => [grey(x, y)])
  expect(decodePng(Buffer.from('GIF89a'))).toEqual({ why: expect.stringContaining('is not a PNG file') })
  expect(decodePng(good.subarray(0, -20))).toEqual({ why: expect.stringContaining('damaged') })
  expect(decodePng(encodePng(2, 2, 0, () => [0], { interlace: 1 }))).toEqual({
    why: expect.stringContaining('interlaced'),
  })
  expect(decodePng(encodePng(2001, 1, 0, () => [0]))).toEqual({
    why: 'is 2001 × 1 pixels; it must be at most 2000 × 2000',
  })
})

test('each byte of a PNG file that is turned is found, up to its end', () => {
  const good = encodePng(width, height, 0, (x, y) => [grey(x, y)])
  for (let at = 0; at < good.length; at++) {
    const turned = Buffer.from(good)
    turned[at] = turned[at]! ^ 0x01
    expect(decodePng(turned), `byte ${at}`).toHaveProperty('why')
  }
})

test('a picture that is made smaller keeps its mean, and one that fits is left as it is', () => {
  const picture = pixelsOf(encodePng(8, 4, 0, (x) => [x < 4 ? 0 : 200]))
  expect(shrink(picture, 8, 4)).toBe(picture)
  expect(shrink(picture, 4, 4)).toMatchObject({
    width: 4,
    height: 2,
    pixels: Buffer.from([0, 0, 200, 200, 0, 0, 200, 200]),
  })
})
