// Lines out of bytes that come in any pieces.
import { expect, test } from 'vitest'
import { type Line, type LineMemory, splitLines } from '../../src/protocol/lines.ts'

function linesOf(pieces: string[], end: 'lf' | 'cr' = 'lf', max = 20): { lines: Line[]; memory: LineMemory | null } {
  let memory: LineMemory | null = null
  const lines: Line[] = []
  for (const piece of pieces) {
    const split = splitLines(memory, piece, end, max)
    lines.push(...split.lines)
    memory = split.memory
  }
  return { lines, memory }
}

test('the first line after a connection may be a tail and is not handed out', () => {
  expect(linesOf(['25 Pa\n-1.25 Pa\n']).lines).toEqual([{ text: '-1.25 Pa', frameBytes: 9 }])
})

test('LF and CRLF end a line, and its length on the wire counts both', () => {
  expect(linesOf(['\na\r\nb\n']).lines).toEqual([
    { text: 'a', frameBytes: 3 },
    { text: 'b', frameBytes: 2 },
  ])
})

test('CR ends a line where that is asked for, also before LF', () => {
  expect(linesOf(['\ra\rb\r\nc\r\n'], 'cr').lines).toEqual([
    { text: 'a', frameBytes: 2 },
    { text: 'b', frameBytes: 2 },
    { text: 'c', frameBytes: 3 },
  ])
})

test('a line of the allowed length is kept, one byte more is reported once', () => {
  expect(linesOf([`\n${'x'.repeat(19)}\n`]).lines).toEqual([{ text: 'x'.repeat(19), frameBytes: 20 }])
  expect(linesOf([`\n${'x'.repeat(20)}\nb\n`]).lines).toEqual([null, { text: 'b', frameBytes: 2 }])
  expect(linesOf(['x'.repeat(1000), 'x'.repeat(1000), '\nb\n']).lines).toEqual([null, { text: 'b', frameBytes: 2 }])
})

test('every way to cut the bytes in two or into single bytes gives the same lines and the same memory', () => {
  const bytes = `tail\r\nab\r\n\r\n\n${'x'.repeat(20)}\n${'y'.repeat(45)}\r\nc\nunfinished`
  for (const end of ['lf', 'cr'] as const) {
    const whole = linesOf([bytes], end)
    expect(linesOf([...bytes], end)).toEqual(whole)
    for (let at = 0; at <= bytes.length; at++)
      expect(linesOf([bytes.slice(0, at), bytes.slice(at)], end)).toEqual(whole)
  }
})

test('memory holds no more than one line, however long the noise', () => {
  const { lines, memory } = linesOf(['x'.repeat(1_000_000), 'x'.repeat(15)])
  expect(lines).toEqual([null])
  expect(JSON.stringify(memory).length).toBeLessThan(100)
})
