import { describe, expect, test } from 'vitest'
import type { Result } from '../../src/core/model/result.ts'
import { resultFrom } from '../harness/fold-events.ts'
import { type ForeignBench, makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

const inH2OPa = 9.80665 * 25.4

const measure = (change: Partial<ForeignBench>) =>
  resultFrom(
    makeForeignRecording({
      ...quietBench,
      ratePaPerS: (stroke) => [1.2, 1.2, 3][stroke % 3]!,
      digitPa: 0.01,
      seed: 2,
      ...change,
    }).events,
  )

describe('The same bench in other words gives the same answer:', () => {
  const plain = measure({})
  const same = (result: Result) => {
    expect(result.verdict).toBe('pass')
    expect(result.findings).toEqual([])
    for (const quantity of ['make', 'break', 'differential'] as const)
      expect(Math.abs(result[quantity].valuePa! - plain[quantity].valuePa!)).toBeLessThan(0.02)
    expect(Math.abs(result.lag.valueS - plain.lag.valueS)).toBeLessThan(0.01)
  }
  test.each<[string, (shownPa: number) => string, object]>([
    ['CR alone', (p) => `${(p / inH2OPa).toFixed(5)} inH2O\r`, { unit: 'inH2O', end: 'cr' }],
    ['LF alone', (p) => `${(p / inH2OPa).toFixed(5)} inH2O\n`, { unit: 'inH2O' }],
    ['a decimal comma', (p) => `${(p / inH2OPa).toFixed(5).replace('.', ',')} in wc\r\n`, {}],
    ['pascal', (p) => `P = ${p.toFixed(2)} Pa\r\n`, {}],
    ['millimetres of water', (p) => `${(p / 9.80665).toFixed(4)} mmH2O\r\n`, {}],
    ['hectopascal', (p) => `${(p / 100).toFixed(4)} hPa\r\n`, {}],
    ['millibar without a unit', (p) => `${(p / 100).toFixed(4)}\r\n`, { unit: 'mbar' }],
  ])('%s', (_, line, options) => {
    same(measure({ line, rig: { manometer: { options } } }))
  })

  test('suction shown as a positive number', () => {
    const line = (p: number) => `${(-p).toFixed(2)} Pa\r\n`
    same(measure({ line, rig: { manometer: { suctionSign: 1 } } }))
  })

  test('the other pair, and the network', () => {
    same(measure({ wired: 'com-nc', rig: { meter: { pair: 'com-nc' } } }))
    const result = measure({ wired: 'network' })
    same(result)
    // What the network hides is not made up.
    expect(result.contact).toEqual({ medianOhm: null, maxOhm: null, uOhm: null, poorShare: null })
    expect(result.limits.find((limit) => limit.name === 'contact')?.outcome).toBe('not-assessed')
  })
})
