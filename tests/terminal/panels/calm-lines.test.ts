import { expect, test } from 'vitest'
import { cautionsOf } from '../../../src/core/model/cautions.ts'
import type { Live } from '../../../src/core/view/live.ts'
import { createCalmLines } from '../../../src/terminal/panels/calm-lines.ts'
import { sampleGuide, sampleLive, samplePart } from '../sample-lives.ts'

/** Ten states a second, as the screen is drawn, from `fromS` for `forS` seconds. */
function linesOf(fromS: number, forS: number, change: (elapsedS: number) => Partial<Live> = () => ({})): string[] {
  const lines: string[] = []
  const tell = createCalmLines((line) => lines.push(line), samplePart, false)
  for (let i = 0; i <= forS * 10; i++) {
    const elapsedS = fromS + i / 10
    tell(sampleLive(elapsedS, change(elapsedS)), elapsedS * 1000)
  }
  return lines
}

test('a stroke is told in a few lines: numbers now and then, the contact as it changes, the stroke once it is done', () => {
  // The fourth stroke of the sample: from 90 s to 114 s, then its rest.
  const lines = linesOf(90, 30.1)
  const numbers = lines.filter((line) => /^\d.*, to the make /.test(line))
  expect(numbers[0]).toBe('0.013 inH2O (3.2 Pa), good pace, to the make 0.067 inH2O.')
  expect(numbers.length).toBeGreaterThanOrEqual(4)
  expect(numbers.length).toBeLessThanOrEqual(7)
  expect(lines.filter((line) => line.startsWith('Contact '))).toEqual([
    'Contact open: at rest.',
    'Contact closed: actuated, 0.248 inH2O (61.7 Pa).',
    'Contact open: at rest, 0.188 inH2O (46.8 Pa).',
  ])
  expect(lines.at(-1)).toMatch(/Stroke 4: make .* counted\.$/)
})

test('at rest nothing is told again and again', () => {
  expect(linesOf(115, 4, () => ({ result: null, pressurePa: 0 })).length).toBe(
    linesOf(115, 0, () => ({ result: null, pressurePa: 0 })).length,
  )
})

test('cautions are told once and whole, and what is wrong with the bench when it comes', () => {
  const cautions = [...cautionsOf('certify')]
  const lines = linesOf(1, 5, (elapsedS) => ({
    guide: sampleGuide({ cautions, trouble: elapsedS > 3 ? 'Move the lead to NO.' : null }),
  }))
  for (const { text } of cautions) expect(lines.filter((line) => line === `Caution: ${text}`)).toHaveLength(1)
  expect(lines.filter((line) => line === 'Wrong: Move the lead to NO.')).toHaveLength(1)
})
