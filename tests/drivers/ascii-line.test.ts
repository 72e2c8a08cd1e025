// Which of a line's values an instrument's role takes, and what a number that stands alone is.
import { describe, expect, test } from 'vitest'
import { driver } from '../../drivers/ascii-line.ts'
import type { Role } from '../../src/driver.ts'

/** The readings as `value unit` and the faults as their code, of lines that follow a first one. */
function read(role: Role, lines: string, unit = 'auto'): string[] {
  const { readings, faults } = driver.decode(null, `\n${lines}\n`, {
    options: { unit, end: 'lf' },
    role,
    way: 'received',
  })
  return [...readings.map(({ value, unit }) => `${value} ${unit}`), ...faults.map(({ code }) => code)]
}

describe('a number that stands alone', () => {
  test('is ohm for a meter, and needs the option for a manometer and for a bridge', () => {
    expect(read('meter', '0.31')).toEqual(['0.31 ohm'])
    expect(read('manometer', '0.31')).toEqual(['no-unit'])
    expect(read('bridge', '0.31')).toEqual(['no-unit'])
    expect(read('manometer', '0.31', 'kPa')).toEqual(['310 kPa'])
    expect(read('meter', '4.7', 'kOhm')).toEqual(['4700 ohm'])
    expect(read('bridge', '0.31', 'Pa')).toEqual(['0.31 Pa'])
  })

  test('is refused where the option states a unit of the other quantity', () => {
    expect(read('meter', '0.31', 'Pa')).toEqual(['wrong-quantity'])
    expect(read('manometer', '0.31', 'ohm')).toEqual(['wrong-quantity'])
  })

  test('is refused where there are several', () => {
    expect(read('meter', '1 0.31')).toEqual(['unreadable'])
    expect(read('manometer', '2 0.31 V', 'Pa')).toEqual(['unreadable'])
  })

  test('is refused where an unknown unit stands behind it', () => {
    expect(read('meter', '0.31 V')).toEqual(['unreadable'])
    expect(read('meter', '0.31 mohm')).toEqual(['unreadable'])
    expect(read('manometer', '0.31 bar', 'Pa')).toEqual(['unreadable'])
  })
})

describe('several values in a line', () => {
  test('each role takes the quantity it is there for', () => {
    const line = 'P=-12.5 Pa R=0.31 ohm'
    expect(read('manometer', line)).toEqual(['-12.5 Pa'])
    expect(read('meter', line)).toEqual(['0.31 ohm'])
    expect(read('bridge', line)).toEqual(['-12.5 Pa', '0.31 ohm'])
  })

  test('two of one quantity are refused: which one counts is not clear', () => {
    expect(read('manometer', 'P1 3 Pa P2 4 Pa')).toEqual(['unreadable'])
    expect(read('bridge', '3 Pa 4 ohm 5 ohm')).toEqual(['unreadable'])
  })

  test('an over-range text without unit beside a value with one is refused', () => {
    expect(read('bridge', '-12.5 Pa OL')).toEqual(['no-unit'])
  })
})

describe('over-range', () => {
  test('on a manometer it stays in the unit shown before, which a bridge cannot know', () => {
    expect(read('manometer', '3 kPa\nOL')).toEqual(['3000 kPa', 'Infinity kPa'])
    expect(read('manometer', '3 kPa\nOL', 'Pa')).toEqual(['3000 kPa', 'Infinity kPa'])
    expect(read('manometer', 'OL', 'Pa')).toEqual(['Infinity Pa'])
    expect(read('bridge', '3 kPa\nOL')).toEqual(['3000 kPa', 'no-unit'])
  })

  test('on a meter it is an open circuit, whatever its sign', () => {
    expect(read('meter', 'OL\n-OL\n----\nOL MOhm')).toEqual(Array(4).fill('Infinity ohm'))
  })

  test('of ohms on a manometer shows that the instruments are exchanged', () => {
    expect(read('manometer', 'OL ohm\nOpen')).toEqual(['wrong-quantity', 'wrong-quantity'])
  })
})
