// What the system says of a port that does not open, into the problem that a user is told.
import { expect, test } from 'vitest'
import { openProblem } from '../src/errors.ts'

// Messages as the serial library gives them on Linux, macOS and Windows; those of the latter two from memory.
test.each([
  ['Error: No such file or directory, cannot open /dev/x', 'port-absent', /Port \/dev\/x not found\./],
  ['Opening COM9: File not found', 'port-absent', /Port .* not found/],
  ['Error Resource temporarily unavailable Cannot lock port', 'port-busy', /in use by another program/],
  ['Error: Resource busy, cannot open /dev/x', 'port-busy', /in use by another program/],
  ['Opening COM9: Access denied', 'port-busy', /held by another program/],
  ['Error: Permission denied, cannot open /dev/x', 'port-forbidden', /This user may not open the port \/dev\/x\./],
  ['Error: Is a directory, cannot open /dev/x', 'port-absent', /Port \/dev\/x not found: it is a folder\./],
  [
    'Error: Inappropriate ioctl for device, cannot get',
    'port-failed',
    /not a serial port but a file of another kind\./,
  ],
  ['Error: Input/output error', 'port-failed', /could not be opened \(Error: Input\/output error\)/],
])('%s is %s, with status 69 and a next step', (why, code, sentence) => {
  const problem = openProblem('/dev/x', why)
  expect(problem).toMatchObject({ code, exitCode: 69, message: expect.stringMatching(sentence) })
  expect(problem.next).toMatch(/^[A-Z].*\.$/)
})

test('what the system says cannot steer the terminal', () => {
  expect(openProblem('/dev/\u001b[2J', 'no such file').message).toBe('Port /dev/\\u001b[2J not found.')
})
