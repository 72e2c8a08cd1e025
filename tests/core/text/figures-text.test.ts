import { expect, test } from 'vitest'
import { figuresText, givenText } from '../../../src/core/text/figures-text.ts'

test.each([
  [0.25, 3, '0.250'],
  [0.09996, 3, '0.100'],
  [9.996, 3, '10.0'],
  [1245.4, 3, '1250'],
  [120, 2, '120'],
  [-0.0456, 2, '-0.046'],
  [0.000_012_34, 3, '0.0000123'],
  [-1e-12, 3, '0'],
  [0, 3, '0'],
])('%f to %i figures is %s', (value, figures, text) => {
  expect(figuresText(value, figures)).toBe(text)
})

test('a number as it was given has no more figures than asked for and no zeros behind', () => {
  expect(['0.22', '62.27', '1245', '0'].map((text) => givenText(Number(text) * (1 + 1e-12), 4))).toEqual([
    '0.22',
    '62.27',
    '1245',
    '0',
  ])
  expect(givenText(-0, 4)).toBe('0')
})
