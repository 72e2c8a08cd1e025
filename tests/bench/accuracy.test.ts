// A short version of `npm run bench:accuracy`: few parts, the same bars for errors, chance allowed for in shares.
import { expect, test } from 'vitest'
import { accuracyOf, missedBars } from './accuracy-of.ts'
import { accuracyScenarios } from './accuracy-scenarios.ts'

const parts = 12
const slack = 3

for (const scenario of accuracyScenarios.filter((s) => s.bars))
  test(`${scenario.name}: make and break stay within their bars in ${parts} simulated parts`, () => {
    expect(missedBars(scenario, accuracyOf(scenario, parts, { withBound: false }), slack)).toEqual([])
  })
