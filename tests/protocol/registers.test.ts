// Numbers in registers, in each order of words and bytes.
import { expect, test } from 'vitest'
import { type ByteOrder, type RegisterType, registerNumber } from '../../src/protocol/registers.ts'
import { bytesOf } from '../harness/bytes-of.ts'

// C2 F6 E9 79: IEEE 754 single precision, worked out with another language's library.
test.each<[ByteOrder, string]>([
  ['abcd', 'C2 F6 E9 79'],
  ['cdab', 'E9 79 C2 F6'],
  ['badc', 'F6 C2 79 E9'],
  ['dcba', '79 E9 F6 C2'],
])('%s as %s is the same number', (order, hex) => {
  expect(registerNumber(bytesOf(hex), 'float32', order)).toEqual({ value: -123.45600128173828, bits: 0xc2f6e979 })
  expect(registerNumber(bytesOf(hex), 'uint32', order).value).toBe(0xc2f6e979)
  expect(registerNumber(bytesOf(hex), 'int32', order).value).toBe(0xc2f6e979 - 2 ** 32)
})

test.each<[RegisterType, ByteOrder, string, number]>([
  ['uint16', 'abcd', 'FF FE', 65_534],
  ['int16', 'cdab', 'FF FE', -2],
  ['int16', 'badc', 'FE FF', -2],
  ['uint16', 'dcba', 'FE FF', 65_534],
])('one register as %s in %s: %s is %d', (type, order, hex, value) => {
  expect(registerNumber(bytesOf(hex), type, order)).toEqual({ value, bits: 65_534 })
})

test('a float32 may hold no number, or an infinite one', () => {
  expect(registerNumber(bytesOf('7F C0 00 00'), 'float32', 'abcd').value).toBeNaN()
  expect(registerNumber(bytesOf('FF 80 00 00'), 'float32', 'abcd').value).toBe(Number.NEGATIVE_INFINITY)
})
