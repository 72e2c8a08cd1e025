import { describe, expect, test } from 'vitest'
import { rewrite } from '../../harness/foreign-recording.ts'
import { found, judged, session } from './sessions.ts'

const good = session()
const last = good.strokes.at(-1)

describe('low-battery', () => {
  const from = (fromS: number, port: 'manometer' | 'meter') =>
    rewrite(good, port, (tS, text) => (tS < fromS ? text : text.replace(/\r?\n/, ' LOBAT$&')))
  test.each(['manometer', 'meter'] as const)('of the %s is void, whatever was read before', (port) => {
    const result = judged(from(last!.endS + 1, port))
    const [finding] = result.findings.filter(({ code }) => code === 'low-battery')
    expect(finding).toMatchObject({ effect: 'void', evidence: { port } })
    expect(finding?.text).toMatch(/battery is low.*Change its batteries/)
    expect(result.verdict).toBe('void')
  })
  test('is void where a single line of the whole test says so', () => {
    let lines = 0
    const one = rewrite(good, 'manometer', (_, text) => (++lines === 100 ? text.replace('\r', ' LOW BAT\r') : text))
    expect(found(one)).toEqual([['low-battery', 'void']])
  })
})
