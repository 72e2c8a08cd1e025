// Where a hand-written JSON file goes wrong, by line and column.
import { expect, test } from 'vitest'
import { findJsonFault } from '../../src/commands/find-json-fault.ts'

test.each([
  ['{"a": 1,}', 1, 8, /comma before } is one too many/],
  ['{\n  "a": 1\n  "b": 2\n}', 3, 3, /comma or } is missing/],
  ['{"a" 1}', 1, 6, /colon is missing after "a"/],
  ['{a: 1}', 1, 2, /field name in double quotes/],
  ["{'a': 1}", 1, 2, /field name in double quotes/],
  ['{"a": .5}', 1, 7, /a value is missing: found \./],
  ['{"a": 0,25}', 1, 9, /field name in double quotes/],
  ['{"a": "x}', 1, 7, /no closing quote/],
  ['{"a": 1', 1, 8, /the file ends/],
  ['{"a": 1} x', 1, 10, /after the end/],
  ['{"a": 1, "a": 2}', 1, 10, /"a" is there twice/],
  ['{"a": NaN}', 1, 7, /a value is missing/],
  ['{"a": // x\n1}', 1, 7, /a value is missing/],
  ['['.repeat(60), 1, 52, /levels of brackets/],
  ['', 1, 1, /the file ends/],
])('%j is at fault in line %i, column %i', (text, line, column, what) => {
  expect(findJsonFault(text)).toMatchObject({ line, column, what: expect.stringMatching(what) })
})

test('what a JSON parser takes has no fault', () => {
  const texts = [
    '{}',
    ' [1, -2.5e-3, true, null, "\\u00e9\\n\\"", {"a": {"b": []}}] \r\n',
    '0',
    '"x"',
    '{"a":{"x":1},"b":{"x":2}}',
  ]
  for (const text of texts) {
    expect(() => JSON.parse(text)).not.toThrow()
    expect(findJsonFault(text)).toBeNull()
  }
})

test('what a JSON parser refuses has a fault', () => {
  const sound = '{"a": [1, 2.5, {"b": "x\\n", "c": null}], "d": -0.25e+3, "e": true}'
  for (let i = 0; i < sound.length; i++) {
    for (const text of [
      sound.slice(0, i),
      sound.slice(0, i) + sound.slice(i + 1),
      `${sound.slice(0, i)}#${sound.slice(i)}`,
    ]) {
      let parses = true
      try {
        JSON.parse(text)
      } catch {
        parses = false
      }
      if (!parses) expect(findJsonFault(text), text).not.toBeNull()
      else expect(findJsonFault(text), text).toBeNull()
    }
  }
})
