// One key after the other onto a text with a cursor, and what of it is seen in a field.
import { describe, expect, test } from 'vitest'
import { bareText } from '../../../src/terminal/text/line.ts'
import { type Editor, editKeys, editorLine, editText, typeText } from '../../../src/terminal/text/text-editor.ts'

/** The text after `keys`, `|` before the character that the cursor is on; a key of one character is typed. */
function pressed(given: string, ...keys: string[]): string {
  let editor: Editor = { text: given.replace('|', ''), cursor: given.indexOf('|') < 0 ? null : given.indexOf('|') }
  for (const key of keys) editor = [...key].length === 1 ? typeText(editor, key, 200) : editText(editor, key)
  const at = editor.cursor ?? editor.text.length
  return `${editor.text.slice(0, at)}|${editor.text.slice(at)}`
}

describe('a key', () => {
  test.each([
    ['abc', 'left', 'ab|c'],
    ['|abc', 'left', '|abc'],
    ['a|bc', 'right', 'ab|c'],
    ['abc', 'right', 'abc|'],
    ['ab|c', 'home', '|abc'],
    ['ab|c', 'ctrl-a', '|abc'],
    ['|abc', 'end', 'abc|'],
    ['|abc', 'ctrl-e', 'abc|'],
    ['ab|c', 'backspace', 'a|c'],
    ['|abc', 'backspace', '|abc'],
    ['ab|c', 'delete', 'ab|'],
    ['abc', 'delete', 'abc|'],
    ['one two| three', 'ctrl-w', 'one | three'],
    ['one two  |three', 'ctrl-w', 'one |three'],
    ['|one', 'ctrl-w', '|one'],
    ['one |two', 'ctrl-u', '|two'],
    ['one |two', 'ctrl-k', 'one |'],
    ['ab|c', 'x', 'abx|c'],
    ['ab|c', 'page-up', 'ab|c'],
    ['', 'toString', '|'],
  ])('%s, %s gives %s', (given, key, wanted) => {
    expect(pressed(given, key)).toBe(wanted)
  })

  test('goes over what a reader takes for one character, however many code points it has', () => {
    const accented = 'e\u0301'
    const family = '👨\u200d👩\u200d👧'
    expect(pressed(`x${accented}y`, 'left', 'backspace')).toBe('x|y')
    expect(pressed(`x${family}`, 'left')).toBe(`x|${family}`)
    expect(pressed(`|${family}y`, 'delete')).toBe('|y')
    expect(pressed(`|🇩🇪🇫🇷`, 'right')).toBe('🇩🇪|🇫🇷')
    // An accent typed behind its letter belongs to it: the cursor is never between the two.
    expect(pressed('|ey', 'right', '\u0301')).toBe(`${accented}|y`)
  })

  test('is one of the table, and every one of the table does something', () => {
    for (const key of Object.values(editKeys).flat()) expect(pressed('one two| three', key)).not.toBe('one two| three')
  })
})

describe('a text', () => {
  test('is typed or pasted at the cursor, as much as there is room for, and never half a character', () => {
    expect(typeText({ text: 'ad', cursor: 1 }, 'bc', 200)).toEqual({ text: 'abcd', cursor: 3 })
    expect(typeText({ text: 'a', cursor: null }, 'bcd', 3)).toEqual({ text: 'abc', cursor: null })
    expect(typeText({ text: 'a', cursor: null }, '👨\u200d👩\u200d👧', 4)).toEqual({ text: 'a', cursor: null })
  })
  test('that became shorter meanwhile has its cursor behind it', () => {
    expect(typeText({ text: 'ab', cursor: 9 }, 'c', 200)).toEqual({ text: 'abc', cursor: null })
  })
})

/** The field as text; the cursor's cell in brackets. */
const field = (editor: Editor, width: number) =>
  editorLine(editor, width)
    .map(({ text, tone }) => (tone === 'bar' ? `[${text}]` : text))
    .join('')

describe('a field', () => {
  test('shows the cursor in a cell of its own, behind the text or on a character', () => {
    expect(field({ text: 'abc', cursor: null }, 8)).toBe('abc[ ]')
    expect(field({ text: 'abc', cursor: 1 }, 8)).toBe('a[b]c')
    expect(field({ text: '', cursor: null }, 8)).toBe('[ ]')
  })
  test('scrolls a long text with the cursor and says on which side there is more', () => {
    const text = '0123456789abcdef'
    expect(field({ text, cursor: null }, 8)).toBe('…abcdef[ ]')
    expect(field({ text, cursor: 0 }, 8)).toBe('[0]123456…')
    expect(field({ text, cursor: 8 }, 8)).toBe('…567[8]9a…')
  })
  test('never takes more cells than it has, and always shows the cursor, wherever that is', () => {
    const text = 'ab漢字 e\u0301\u202e👨\u200d👩\u200d👧 the end\x1b[2J'
    for (const width of [4, 7, 16, 60])
      for (let cursor = 0; cursor <= text.length; cursor++) {
        const line = editorLine({ text, cursor }, width)
        expect(line.filter(({ tone }) => tone === 'bar')).toHaveLength(1)
        // Two cells for each of the two wide characters, none for the accent.
        const cells = [...bareText(line)].reduce((sum, char) => sum + (/[漢字]/.test(char) ? 2 : 1), 0)
        expect(cells).toBeLessThanOrEqual(width)
        for (const char of ['\x1b', '\u202e']) expect(bareText(line)).not.toContain(char)
      }
  })
})
