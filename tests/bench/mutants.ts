// `npm run bench:mutants [-- PATH]`: each deliberate error in a copy of the tree against the test that has to notice it; status 1 where one survives.
import { execFileSync, spawnSync } from 'node:child_process'
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Mutant, mutants } from '../mutants.table.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const copy = mkdtempSync(join(tmpdir(), 'makebreak-mutants-'))

/** Whether the killing test of a mutant passes on the copy as it is now, and what it said. */
function tryTest({ test, name }: Mutant): { passes: boolean; ran: boolean; said: string } {
  const pattern = name.replaceAll(/[\\^$.*+?()[\]{}|]/g, '\\$&')
  const vitest = join(copy, 'node_modules', 'vitest', 'vitest.mjs')
  const report = join(copy, 'report.json')
  const told = ['--reporter', 'json', '--outputFile', report]
  const args = [vitest, 'run', '--config', 'tests/vitest.config.ts', test, '-t', pattern, ...told]
  rmSync(report, { force: true })
  const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: copy, encoding: 'utf8' })
  const counts = existsSync(report) ? JSON.parse(readFileSync(report, 'utf8')) : {}
  const { numPassedTests = 0, numFailedTests = 0 } = counts
  return { passes: status === 0, ran: numPassedTests + numFailedTests > 0, said: `${stdout}${stderr}`.slice(-500) }
}

/** `killed`, `survived`, or why the test tells nothing. */
function resultOf(mutant: Mutant): string {
  const path = join(copy, mutant.file)
  const sound = readFileSync(path, 'utf8')
  const before = tryTest(mutant)
  // A test that fails anyway, or none at all, would seem to notice everything.
  if (!before.ran) return `no such test: ${before.said}`
  if (!before.passes) return 'the test fails without the error too'
  if (sound.split(mutant.text).length !== 2) return 'its text does not occur exactly once'
  writeFileSync(
    path,
    sound.replace(mutant.text, () => mutant.replacement),
  )
  try {
    const { passes, ran } = tryTest(mutant)
    // An error that keeps the file from being loaded proves nothing of the test.
    return passes ? 'survived' : ran ? 'killed' : 'the file with the error cannot be loaded'
  } finally {
    writeFileSync(path, sound)
  }
}

/** Those in files whose path holds what was asked for; all where nothing was. */
const chosen = mutants.filter(({ file }) => file.includes(process.argv[2] ?? ''))
let bad = 0
try {
  const listed = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard', '-z'], { cwd: root })
  for (const name of listed.toString().split('\0').filter(Boolean)) cpSync(join(root, name), join(copy, name))
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'), 'junction')
  for (const mutant of chosen) {
    const result = resultOf(mutant)
    if (result !== 'killed') bad++
    console.log(`${result.padEnd(8)}  ${mutant.file}: ${mutant.error}`)
  }
} finally {
  rmSync(copy, { recursive: true, force: true })
}
console.log(`${chosen.length - bad} of ${chosen.length} deliberate errors are noticed`)
process.exitCode = bad === 0 ? 0 : 1
