// The built program against the same command lines run in this process: it prints the same, byte by byte, and ends with the same status.
import { copyFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
for (const name of ['good-1.run', 'off-high-2.run', 'torn-tail.run'])
  copyFileSync(new URL(`../../recordings/${name}`, import.meta.url), join(folder, name))
writeFileSync(join(folder, 'part.json'), '{ "kind": "blockage", }')

test.each([
  [['--help'], 0],
  [['simulate', '--list'], 0],
  [['replay', 'good-1.run', '--budget'], 0],
  [['replay', 'off-high-2.run', 'torn-tail.run', '--json'], 1],
  [['check', 'torn-tail.run'], 2],
  [['nonesuch'], 64],
  [['run', '--part', 'part.json'], 65],
])('%j says and ends as the sources do, with status %i', async (args, status) => {
  const built = await runProgram(folder, args)
  expect(built.status).toBe(status)
  expect(built).toEqual(await runCommand(folder, args))
})
