// Nonsense in any order through the whole core; `npm run bench:fuzz` tries many more seeds.
import { expect, test } from 'vitest'
import { faultsOf } from '../harness/fuzz.ts'

test('Nonsense never throws, turns no interval round, and passes no part.', () => {
  for (let seed = 1; seed <= 300; seed++) expect([seed, ...faultsOf(seed)]).toEqual([seed])
})
