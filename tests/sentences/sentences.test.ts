// The sentences of the program: what counts as one, and the words that none of them has.
import { expect, test } from 'vitest'
import { readSentences } from './read-sentences.ts'
import { sourceSentences } from './source-sentences.ts'

/** Words that a technician does not say at the bench. */
const banned = /\b(anew|mend(s|ed|ing)?|had|stands)\b|\b(is|are) no (?!longer)/i

test('no sentence of the program has a banned word', () => {
  const found = sourceSentences().filter(({ text }) => banned.test(text))
  expect(found.map(({ path, line, text }) => `${path}:${line}  ${text}`)).toEqual([])
})

test('a sentence is any text with a space between words, with … for what is put in; names and types are none', () => {
  const source = [
    "import { x } from 'not a module'",
    "type Kind = 'not a text' | 'one'",
    "const code = 'file-missing'",
    'const text = `Port $' + '{path} not $' + '{`found at $' + '{place}`}.`',
    "const more = { does: 'Go back.', key: 'escape' } as const",
    'const drawn = <Text>Two words</Text>',
    '// A comment of its own.',
  ].join('\n')
  expect(readSentences('sample.tsx', source)).toEqual([
    { line: 4, text: 'Port … not ….' },
    { line: 4, text: 'found at …' },
    { line: 5, text: 'Go back.' },
    { line: 6, text: 'Two words' },
  ])
  expect(readSentences('sample.tsx', source, true)).toEqual([{ line: 7, text: 'A comment of its own.' }])
})
