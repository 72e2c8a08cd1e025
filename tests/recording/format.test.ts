import { createHash } from 'node:crypto'
import { crc32 } from 'node:zlib'
import { expect, test } from 'vitest'
import { decodeLine, encodeLine, maxLineBytes } from '../../src/recording/format.ts'
import { createRunId } from '../../src/recording/run-id.ts'

test('the CRC has the published check value', () => {
  // CRC-32/ISO-HDLC: check value of "123456789" in the catalogue of parametrised CRC algorithms (G. Cook).
  expect(crc32('123456789').toString(16)).toBe('cbf43926')
})

test('the digest has the published value', () => {
  // SHA-256 of "abc": FIPS 180-4 with the examples of the Cryptographic Standards and Guidelines page.
  expect(createHash('sha256').update('abc').digest('hex')).toBe(
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
  )
})

test('a line is eight digits, a space, the JSON and a line feed', () => {
  const line = encodeLine({ type: 'mark', t: 1500000, mark: 'zero' })
  expect(line.toString()).toBe('f53b4d6e {"type":"mark","t":1500000,"mark":"zero"}\n')
  expect(decodeLine(line.subarray(0, -1))).toEqual({ json: { type: 'mark', t: 1500000, mark: 'zero' } })
})

test('a CRC that starts with zeros keeps its eight digits', () => {
  const short = Array.from({ length: 2000 }, (_, t) => encodeLine({ type: 'tick', t })).find((line) => line[0] === 48)
  expect(short?.toString()).toMatch(/^0[0-9a-f]{7} \{/)
  expect(decodeLine(short!.subarray(0, -1))).toHaveProperty('json.type', 'tick')
})

test('digits are compared as text, so a capital one is damage', () => {
  const line = Buffer.from(encodeLine({ type: 'tick', t: 1 }).toString().trimEnd())
  const capital = Buffer.from(line.toString().replace(/^[0-9a-f]{8}/, (digits) => digits.toUpperCase()))
  expect(capital.equals(line)).toBe(false)
  expect(decodeLine(capital)).toEqual({ why: 'CRC does not match' })
})

test('text that is no JSON is damage even where its CRC is right', () => {
  expect(decodeLine(Buffer.from(`${crc32('{"type":').toString(16).padStart(8, '0')} {"type":`))).toEqual({
    why: 'no JSON',
  })
})

test('a line longer than 64 KiB is damage', () => {
  const line = encodeLine({ type: 'mark', t: 1, mark: 'note', text: 'x'.repeat(maxLineBytes) })
  expect(decodeLine(line.subarray(0, -1))).toEqual({ why: 'longer than 65536 bytes' })
})

test('a run id has the time, version and variant where RFC 9562 section 5.7 puts them', () => {
  // The example of RFC 9562, appendix A.6 (value from memory): 0x017F22E279B0 ms, rand_a CC3, rand_b 18C4DC0C0C07398F.
  expect(createRunId(0x017f22e279b0, Buffer.from('0cc318c4dc0c0c07398f', 'hex'))).toBe(
    '017f22e2-79b0-7cc3-98c4-dc0c0c07398f',
  )
  expect(createRunId(0)).toMatch(/^00000000-0000-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
  expect(createRunId(1)).not.toBe(createRunId(1))
})
