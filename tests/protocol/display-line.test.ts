// Lines as displays show them: which number is the value, in which unit, and when a line must not be used.
import { describe, expect, test } from 'vitest'
import { readDisplay } from '../../src/protocol/display-line.ts'

/** Values as [value, unit, digit]; a fault as its code. */
function read(line: string): unknown {
  const shown = readDisplay(line)
  if ('fault' in shown) return shown.fault.code
  return shown.values.map(({ value, unit, digit }) => [value, unit?.unit ?? null, digit])
}

const infinity = Number.POSITIVE_INFINITY

describe('over-range', () => {
  test.each([
    'OL',
    'O.L',
    'O.L.',
    '.OL',
    '0L',
    '0.L',
    '+OL',
    'ol',
    'OVER',
    'OVERLOAD',
    'OVER RANGE',
    'OFL',
    'OVFL',
    'OVLD',
  ])('%s is a value beyond the range, with and without a unit', (text) => {
    expect(read(text)).toEqual([[infinity, null, null]])
    expect(read(`${text} ohm`)).toEqual([[infinity, 'ohm', null]])
  })

  test.each(['----', '---', '--.--', '-.---', '+INF', 'inf'])('%s is a value beyond the range', (text) => {
    expect(read(text)).toEqual([[infinity, null, null]])
    expect(read(` ${text} Pa`)).toEqual([[infinity, 'Pa', null]])
  })

  test.each(['-OL', '- OL', '-O.L', '-0L', '-OFL', '-OVER', '-INF', 'UNDER', 'UNDERRANGE'])(
    '%s is beyond the range below',
    (text) => {
      expect(read(`${text} Pa`)).toEqual([[-infinity, 'Pa', null]])
    },
  )

  test('a word that only begins like an over-range text is none', () => {
    expect(read('OLD')).toBe('unreadable')
    expect(read('OVERALL 0.31 ohm')).toEqual([[0.31, 'ohm', 0.01]])
    expect(read('10L')).toEqual([[10, null, 1]])
    expect(readDisplay('10L')).toMatchObject({ values: [{ foreign: 'L' }] })
  })

  test('not a number is a value of its own', () => {
    expect(read('NaN Pa')).toEqual([[Number.NaN, 'Pa', null]])
  })
})

describe('flags', () => {
  test.each([
    '-0.25 Pa HOLD',
    'HOLD -0.25 Pa',
    '-0.25 Pa,hold',
    '-0.25 Pa MIN/MAX',
    'Max: 3 Pa',
    'REL 0 Pa',
    '3 Pa (AVG)',
    'OL HOLD',
    'PEAK 3 Pa',
  ])('%s does not follow the pressure', (line) => {
    expect(read(line)).toBe('held')
  })

  test.each([
    '-0.25 Pa BATT',
    '-0.25 Pa LOBAT',
    'LO BAT -0.25 Pa',
    '-0.25 Pa, low battery',
    '0.31 ohm Bat.Low',
    '-0.25 Pa LBAT',
  ])('%s is not to be trusted: the battery is low', (line) => {
    expect(read(line)).toBe('low-battery')
  })
  test('how full a battery is says nothing against the reading', () => {
    expect(read('-0.25 Pa BAT 87 %')).toEqual([
      [-0.25, 'Pa', 0.01],
      [87, null, 1],
    ])
  })

  test('a flag that changes nothing is passed over, one that is not known makes the line unreadable', () => {
    expect(read('0.31 ohm AUTO')).toEqual([[0.31, 'ohm', 0.01]])
    expect(read('0.31 AUTO ohm')).toEqual([[0.31, 'ohm', 0.01]])
    expect(read('-0.25 Pa H')).toBe('unreadable')
  })

  test('an instrument that reports an error has no value', () => {
    expect(read('-0.25 Pa ERR')).toBe('device-error')
    expect(read('Error 12')).toBe('device-error')
  })
})

describe('labels', () => {
  test.each([
    ['P1 -0.25 inH2O', -0.25, 'inH2O'],
    ['P1-0.25 inH2O', -0.25, 'inH2O'],
    ['CH1: -0.25 inH2O', -0.25, 'inH2O'],
    ['CH 1: -0.25 inH2O', -0.25, 'inH2O'],
    ['1: -0.25', -0.25, null],
    ['R=0.31 ohm', 0.31, 'ohm'],
    ['R2=0.31', 0.31, null],
    ['10:20:31 -0.25', -0.25, null],
    ['10:20:31,5 -0.25 Pa', -0.25, 'Pa'],
    ['2024-05-01T10:20:31Z -0.25 Pa', -0.25, 'Pa'],
    ['1:25.3 Pa', 25.3, 'Pa'],
    ['Pa -62.3', -62.3, 'Pa'],
    ['dP(Pa)=-62.3', -62.3, 'Pa'],
    ['kOhm 4.7', 4.7, 'ohm'],
  ])('%s has one value', (line, value, unit) => {
    const shown = readDisplay(line)
    expect('values' in shown && shown.values.map((v) => [v.value, v.unit?.unit ?? null])).toEqual([[value, unit]])
  })

  test('a number in a unit not known here says so and takes no other unit', () => {
    expect(readDisplay('21.5 V')).toMatchObject({ values: [{ value: 21.5, unit: null, foreign: 'V' }] })
    expect(readDisplay('21.5 Pa/s')).toMatchObject({ values: [{ unit: null, foreign: 'Pa/s' }] })
    expect(readDisplay('0.25 inH2O@20C')).toMatchObject({ values: [{ unit: null, foreign: 'inH2O@20C' }] })
  })

  test('units before several numbers are not guessed at', () => {
    expect(read('inH2O -0.25 ohm 0.31')).toBe('unreadable')
    expect(read('-0.25 inH2O Pa')).toBe('unreadable')
  })
})

describe('numbers', () => {
  test.each([
    ['-0,250inH2O', -0.25, 0.001],
    ['- 0.250 in. W.C.', -0.25, 0.001],
    ['-0.250"H2O', -0.25, 0.001],
    ['-.25 " H2O', -0.25, 0.01],
    ['+2.5E-1 in wc', 0.25, 0.01],
    ['0.250,inH2O', 0.25, 0.001],
  ])('%s is read to its last digit', (line, value, digit) => {
    expect(read(line)).toEqual([[value, 'inH2O', digit]])
  })

  test.each(['1.2.3 Pa', '1,0.25 Pa', '1,234.5 ohm', '0.25- Pa', '> 3 Pa', '0.25 ? Pa', 'ready', 'Pa', '-'])(
    '%s is no reading',
    (line) => {
      expect(read(line)).toBe('unreadable')
    },
  )

  test('continuity words: open is an open circuit, short is a state without a resistance', () => {
    expect(read('Open')).toEqual([[infinity, 'ohm', null]])
    expect(read('Short')).toBe('unreadable')
  })
})
