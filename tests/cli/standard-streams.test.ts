// Standard output and error that Node cannot open: what is to be said comes out all the same, and never as a stack trace.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()

/** Makes Node throw where it looks at both, as it does at a pipe of the system around Wine. */
const unopened = join(folder, 'unopened.mjs')
writeFileSync(
  unopened,
  `for (const name of ['stdin', 'stdout', 'stderr'])
  Object.defineProperty(process, name, {
    configurable: true,
    get() { throw Object.assign(new Error('open EBADF'), { code: 'EBADF' }) },
  })\n`,
)

test.each([[['simulate', '--list']], [['nonesuch']]])('%j says the same, with the same status', async (args) => {
  const usual = await runProgram(folder, args)
  expect(await runProgram(folder, args, ['--import', unopened])).toEqual(usual)
  expect(usual.out + usual.err).not.toBe('')
})
