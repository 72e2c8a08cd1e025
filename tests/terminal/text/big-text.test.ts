import { describe, expect, test } from 'vitest'
import { bigHeight, bigScale, bigText, bigWidth } from '../../../src/terminal/text/big-text.ts'
import { contactWords, verdictWords } from '../../../src/terminal/text/words.ts'

describe('bigText', () => {
  test('draws at the smallest size in half blocks', () => {
    expect(bigText('-0.25', 1)).toEqual([
      '   █▀█   ▀▀█ █▀▀', //
      '▀▀ █ █   █▀▀ ▀▀█',
      '   ▀▀▀ ▀ ▀▀▀ ▀▀▀',
    ])
  })

  test('draws at twice the size in full blocks', () => {
    expect(bigText('NO', 2)).toEqual([
      '██    ██  ██████',
      '████  ██  ██  ██',
      '██  ████  ██  ██',
      '██    ██  ██  ██',
      '██    ██  ██████',
    ])
  })

  test('has a letter for every word that is shown large, each different from the question mark', () => {
    const words = [...Object.values(contactWords).map((w) => w.big), ...Object.values(verdictWords).map((w) => w.word)]
    const unknown = bigText('?', 2).join()
    for (const char of new Set([...words, '0123456789.-'].join('').replaceAll('?', '')))
      if (char !== ' ') expect(bigText(char, 2).join(), char).not.toBe(unknown)
  })

  test('is as wide and high as it says, at every size', () => {
    for (const scale of [1, 2, 3, 4]) {
      const rows = bigText('UNDECIDED', scale)
      expect(rows).toHaveLength(bigHeight(scale))
      expect(rows.every((row) => row.length === bigWidth('UNDECIDED', scale))).toBe(true)
    }
  })

  test('picks the largest size that fits, and none where none does', () => {
    expect(bigScale('PASS', 78, 8, 4)).toBe(3)
    expect(bigScale('PASS', 78, 7, 4)).toBe(2)
    expect(bigScale('PASS', 10, 8, 4)).toBe(0)
  })
})
