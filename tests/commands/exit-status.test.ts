// One exit status for many recordings: the gravest.
import { expect, test } from 'vitest'
import { errorStatus, gravestStatus, verdictStatus } from '../../src/commands/exit-status.ts'
import { Problem } from '../../src/errors.ts'

test('only a pass is 0, only a fail is 1', () => {
  const verdicts = ['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const
  expect(verdicts.map(verdictStatus)).toEqual([0, 1, 2, 2, 2])
})

test('an error has the status of its kind, and 70 where it is none that was foreseen', () => {
  expect(errorStatus(new Problem('recording-empty', 'x'))).toBe(65)
  expect(errorStatus(new TypeError('x'))).toBe(70)
})

test.each([
  [[0, 2, 1], 1],
  [[1, 65, 2], 65],
  [[65, 64, 1], 64],
  [[70, 64], 70],
  [[0, 2, 0], 2],
  [[0, 0], 0],
  [[], 0],
])('of %j it is %i', (statuses, status) => {
  expect(gravestStatus(statuses)).toBe(status)
})
