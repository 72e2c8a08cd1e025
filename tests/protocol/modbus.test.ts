// Requests, CRCs and answers of Modbus RTU against published frames (tests/reference/modbus-crc.json).
import { describe, expect, test } from 'vitest'
import { findAnswer, readRequest, withCrc } from '../../src/protocol/modbus.ts'
import { bytesOf } from '../harness/bytes-of.ts'
import published from '../reference/modbus-crc.json' with { type: 'json' }

test.each(published)('the CRC of $id is $wireOrder, its low byte first', ({ bytes, wireOrder }) => {
  expect(withCrc(bytesOf(bytes))).toBe(bytesOf(bytes + wireOrder))
})

test('a request asks for all registers from the lowest to the highest, 125 at most, none beyond 65535', () => {
  expect(readRequest(1, 3, [110, 107, 109])).toBe(withCrc(bytesOf('01 03 00 6B 00 04')))
  expect(readRequest(1, 3, [107, 109])).toBe(bytesOf('01 03 00 6B 00 03 74 17'))
  expect(readRequest(1, 4, [0, 124])).toBe(withCrc(bytesOf('01 04 00 00 00 7D')))
  expect(readRequest(1, 4, [0, 125])).toBeNull()
  expect(readRequest(1, 4, [0xffff, 0x10000])).toBeNull()
})

describe('of the bytes that come back', () => {
  const request = bytesOf('01 03 00 6B 00 03 74 17')
  const answer = bytesOf('01 03 06 02 2B 00 00 00 64 05 7A')
  const kind = (bytes: string) => findAnswer(bytes, request).kind

  test('the answer is known at its last byte, whatever follows', () => {
    for (let bytes = 0; bytes < answer.length; bytes++) expect(kind(answer.slice(0, bytes))).toBe('unfinished')
    const found = { kind: 'registers', frame: answer, data: bytesOf('02 2B 00 00 00 64') }
    expect(findAnswer(answer, request)).toEqual(found)
    expect(findAnswer(`${answer}\x01`, request)).toEqual(found)
  })

  test('the request itself is an echo, and a refusal has its code', () => {
    for (let bytes = 0; bytes < request.length; bytes++) expect(kind(request.slice(0, bytes))).toBe('unfinished')
    expect(findAnswer(request + answer, request)).toEqual({ kind: 'echo', frame: request })
    const refusal = withCrc(bytesOf('01 83 02'))
    expect(findAnswer(refusal + answer, request)).toEqual({ kind: 'exception', frame: refusal, code: 2 })
  })

  test('another slave, function, length or CRC is none', () => {
    expect(kind(withCrc(bytesOf('02 03 06 02 2B 00 00 00 64')))).toBe('foreign')
    expect(kind(withCrc(bytesOf('01 04 06 02 2B 00 00 00 64')))).toBe('foreign')
    expect(kind(withCrc(bytesOf('01 03 04 02 2B 00 00')))).toBe('foreign')
    expect(kind(bytesOf('01 03 06 02 2B 00 00 00 65 05 7A'))).toBe('foreign')
  })

  test('an answer that begins like its own request is told apart by its CRC', () => {
    // Register 0200h: the third byte of the request is the byte count of the answer.
    const asked = withCrc(bytesOf('01 03 02 00 00 01'))
    const told = withCrc(bytesOf('01 03 02 00 00'))
    expect(findAnswer(asked, asked).kind).toBe('echo')
    expect(findAnswer(told, asked)).toMatchObject({ kind: 'registers', data: '\0\0' })
    expect(findAnswer(told.slice(0, -1), asked).kind).toBe('unfinished')
  })
})
