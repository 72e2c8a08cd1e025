// Words of a row in the places where they are written, from the left to the right.
import { expect, test } from 'vitest'
import { placedWords } from '../../src/report/pdf-runs.ts'

// Written as codes: an editor would turn them round.
const [first, second] = ['\u05d0\u05d1', '\u0627\u0628']

test('a row without a word that is read from the right is written at once', () => {
  expect(placedWords('bench 12, north')).toEqual(['bench 12, north'])
})

test('words that are read from the right come the other way round, with the numbers behind them', () => {
  expect(placedWords(`${first} ${second} 12 bench`)).toEqual(['12', second, first, 'bench'])
  expect(placedWords(`bench 7 ${first} ${second}`)).toEqual(['bench', '7', second, first])
})

test('a comma behind them follows them, and parts what is turned', () => {
  expect(placedWords(`${first} ${second}, serial 0417`)).toEqual([second, first, ',', 'serial', '0417'])
  expect(placedWords(`${first} 12, ${second}`)).toEqual(['12', first, ',', second])
})
