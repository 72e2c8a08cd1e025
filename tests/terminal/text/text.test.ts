import stringWidth from 'string-width'
import { describe, expect, test } from 'vitest'
import { bareText, line, paintLine, span, spread, wrapLine } from '../../../src/terminal/text/line.ts'
import { cleanText, clipText, padText, textWidth, wrapWords } from '../../../src/terminal/text/text.ts'

describe('cleanText', () => {
  test('shows control characters as escapes, so that none reaches the terminal', () => {
    const clean = cleanText('\x1b[31mred\x1b[2J\x1b]0;t\x07\x9b5n\u202e')
    expect(clean).toBe('\\u001b[31mred\\u001b[2J\\u001b]0;t\\u0007\\u009b5n\\u202e')
    expect(clean).not.toMatch(/\p{C}/u)
  })

  test('puts everything on one line', () => {
    expect(cleanText('  a\r\n\tb\u2028c  ')).toBe('a b c')
  })

  test('keeps letters of any script and the signs the program uses, and replaces what has no steady width', () => {
    expect(cleanText('Größe 部品 ±1 ≤ 2')).toBe('Größe 部品 ±1 ≤ 2')
    expect(cleanText('a😀b\u200bc\u00add\u3164e')).toBe('a?b?c?d?e')
  })
})

describe('clipText and padText', () => {
  test('cut to the width with an ellipsis and count wide letters as two cells', () => {
    expect(clipText('pressure', 5)).toBe('pres…')
    expect(clipText('pressure', 0)).toBe('')
    expect(textWidth('部品')).toBe(4)
    expect(clipText('部品部品', 5)).toBe('部品…')
    expect(clipText('部品部品', 4)).toBe('部…')
    expect(textWidth(padText('部', 5))).toBe(5)
    expect(padText('7', 3, 'right')).toBe('  7')
  })
})

test('a letter of any script is as wide as the library that lays out the screen takes it to be', () => {
  const off: string[] = []
  for (let code = 0x20; code < 0x20000; code++) {
    const char = String.fromCodePoint(code)
    // Accents and the vowels and ends of Korean syllables never stand alone.
    if (cleanText(char) === char && !/[\p{M}\u1160-\u11ff]/u.test(char) && textWidth(char) !== stringWidth(char))
      off.push(char)
  }
  expect(off).toEqual([])
})

describe('wrapLine', () => {
  test('breaks at spaces, keeps the tones and cuts what is left over', () => {
    const rows = wrapLine([span('one two ', 'bad'), span('three four five', 'dim')], 9, 2)
    expect(rows.map(bareText)).toEqual(['one two', 'three fo…'])
    expect(rows[0]!.every((s) => s.tone === 'bad')).toBe(true)
  })

  test('leaves a row that fits as it is, and gives no row for an empty text', () => {
    expect(wrapLine(line('a   b'), 5, 2).map(bareText)).toEqual(['a   b'])
    expect(wrapLine(line(''), 5, 2)).toEqual([])
  })
})

describe('wrapWords', () => {
  test('breaks between words only; a path stays whole on a row of its own', () => {
    expect(wrapWords('Next: label the part and keep it.', 12)).toEqual(['Next: label', 'the part and', 'keep it.'])
    const path = '/a/very/long/path/to/the/recording.run'
    expect(wrapWords(`Recording: ${path}`, 20)).toEqual(['Recording:', path])
  })

  test('what fits, and what has no width to fit, stays one row with its spaces', () => {
    expect(wrapWords('make   0.25', 11)).toEqual(['make   0.25'])
    expect(wrapWords('make 0.25', 0)).toEqual(['make 0.25'])
    expect(wrapWords('', 5)).toEqual([''])
  })
})

test('spread lets the left side give way to the right one', () => {
  expect(bareText(spread(line('a long title'), line('2:17'), 12))).toBe('a long… 2:17')
})

describe('paintLine', () => {
  test('without colours uses bold, dim and inverse only', () => {
    const painted = paintLine([span('a', 'good'), span('b', 'alarm'), span('c', 'accent')], false)
    expect(painted).toBe('\x1b[1ma\x1b[22m\x1b[1m\x1b[7mb\x1b[27m\x1b[22mc')
  })

  test('with colours uses the sixteen basic ones', () => {
    expect(paintLine([span('a', 'bad'), span('b', 'filled')], true)).toBe(
      '\x1b[1m\x1b[31ma\x1b[39m\x1b[22m\x1b[7m\x1b[36mb\x1b[39m\x1b[27m',
    )
  })
})
