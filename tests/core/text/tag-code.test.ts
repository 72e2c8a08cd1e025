import { expect, test } from 'vitest'
import { codeStandings, parseTagCode, tagCodeText } from '../../../src/core/text/tag-code.ts'

const sha256 = `0123456789abcdef${'0'.repeat(48)}`
const pass = { standing: null, number: '3F9C 2027 0042', serial: 'A1047', sha256 }

test('the code of a pass is its number, its serial number and sixteen digits of its digest', () => {
  expect(tagCodeText(pass)).toBe('3F9C 2027 0042 A1047 0123456789ABCDEF')
})

test('whatever is typed as a serial number, the code has capitals, digits and single spaces alone', () => {
  for (const serial of ['a-10/47', 'Ж 12', '日本', 'é\u001b[31m"x"', ' ', 'n'.repeat(300), '\ud800'])
    for (const standing of [null, ...codeStandings]) {
      const text = tagCodeText({ ...pass, standing, serial })
      expect(text).toMatch(/^[A-Z0-9]+( [A-Z0-9]+)*$/)
      expect(text.length).toBeLessThanOrEqual(75)
    }
})

test('a code is read back whole, in small letters and with a line end too', () => {
  for (const standing of [null, ...codeStandings])
    for (const number of [null, '3F9C 2027 0042'])
      for (const serial of [null, 'A1047', 'LOT 7 NO 12']) {
        const text = tagCodeText({ standing, number, serial, sha256 })
        const digest = '0123456789abcdef'
        expect(parseTagCode(text)).toEqual({ standing, number, serial, digest })
        expect(parseTagCode(` ${text.toLowerCase()}\r\n`)).toEqual({ standing, number, serial, digest })
      }
})

test.each(['', 'A1047', '3F9C 2027 0042', '3F9C 2027 0042 A1047 0123456789ABCDE', 'A1047; 0123456789ABCDEF'])(
  '%j is not read as the code of a tag',
  (text) => {
    expect(parseTagCode(text)).toBe(null)
  },
)
