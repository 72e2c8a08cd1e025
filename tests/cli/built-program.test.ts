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
writeFileSync(
  join(folder, 'my-line.mjs'),
  `export const driver = {
  id: 'my-line', title: 'A line of my own',
  serial: { baudRate: 1200, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {}, channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
  wire: () => ({ framing: { kind: 'bytes' }, start: null, poll: null, maxFrameBytes: 16 }),
  decode: () => ({ readings: [], faults: [], memory: null }),
}
`,
)

test.each([
  [['--help'], 0],
  [['simulate', '--list'], 0],
  [['replay', 'good-1.run', '--budget'], 0],
  [['replay', 'off-high-2.run', 'torn-tail.run', '--json'], 1],
  [['check', 'torn-tail.run'], 2],
  [['driver', 'check', 'my-line.mjs'], 0],
  [['nonesuch'], 64],
  [['run', '--part', 'part.json'], 65],
])('%j says and ends as the sources do, with status %i', async (args, status) => {
  const built = await runProgram(folder, args)
  expect(built.status).toBe(status)
  expect(built).toEqual(await runCommand(folder, args))
})
