import { expect, test } from 'vitest'
import { scatterName } from '../../../src/core/text/scatter-name.ts'

test('scatter is called repeatability from ten cycles on', () => {
  expect([2, 9, 10, 50].map(scatterName)).toEqual(['scatter (s)', 'scatter (s)', 'repeatability', 'repeatability'])
})
