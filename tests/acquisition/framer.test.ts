import { expect, test } from 'vitest'
import { createFramer } from '../../src/acquisition/framer.ts'
import type { Framing } from '../../src/driver.ts'

/** Pieces as text, whole lines marked with `|`. */
function frame(framing: Framing, chunks: string[], maxFrameBytes = 32) {
  const pieces: string[] = []
  const framer = createFramer({ framing, maxFrameBytes }, (piece, whole) =>
    pieces.push(`${piece.toString('latin1')}${whole ? '|' : ''}`),
  )
  for (const chunk of chunks) framer.push(Buffer.from(chunk, 'latin1'))
  return { pieces, framer }
}
const lf: Framing = { kind: 'lines', end: 'lf' }

test('lines come out whole with their ends, however they were cut', () => {
  expect(frame(lf, ['a\r', '\n\nb', 'c\nd']).pieces).toEqual(['a\r\n|', '\n|', 'bc\n|'])
  expect(frame({ kind: 'lines', end: 'cr' }, ['a\r\nb\r']).pieces).toEqual(['a\r|', '\nb\r|'])
})

test('a line that outgrows its bound goes out as it came, and the next is read as usual', () => {
  expect(frame(lf, ['x'.repeat(30), 'yyy', 'z\nnext\n']).pieces).toEqual([`${'x'.repeat(30)}yyy`, 'z\n|', 'next\n|'])
})

test('what is left is handed out once, when it is asked for', () => {
  const { pieces, framer } = frame(lf, ['whole\nleft'])
  framer.release()
  framer.release()
  expect(pieces).toEqual(['whole\n|', 'left'])
})

test('bytes go through as they came', () => {
  expect(frame({ kind: 'bytes' }, ['\x01\n', '\x02']).pieces).toEqual(['\x01\n', '\x02'])
})

test('every byte of a flood without ends is handed out', () => {
  let length = 0
  const framer = createFramer({ framing: lf, maxFrameBytes: 128 }, (piece) => {
    length += piece.length
  })
  for (let i = 0; i < 4000; i++) framer.push(Buffer.alloc(1000, 0x41))
  framer.release()
  expect(length).toBe(4_000_000)
})
