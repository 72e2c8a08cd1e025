// Runs a command line in this process, with its own empty folders; gives what it prints and the status it would end with.
// Where a program of its own is not what is tested: no process to start, and the modules are loaded once.
import { mkdirSync } from 'node:fs'
import { runProgram } from '../../src/start-program.ts'
import { type Ended, environmentIn } from './run-program.ts'

/** Where this process began: what a test left behind may be gone by now. */
const home = process.cwd()
let last: Promise<unknown> = Promise.resolve()

/** As runProgram. Commands run one after the other, for standard output is one. */
export function runCommand(folder: string, args: readonly string[]): Promise<Ended> {
  const ended = last.then(() => runNow(folder, args))
  last = ended.catch(() => {})
  return ended
}

async function runNow(folder: string, args: readonly string[]): Promise<Ended> {
  const before = {
    environment: { ...process.env },
    out: process.stdout.write,
    err: process.stderr.write,
  }
  const written = { out: '', err: '' }
  const keep = (stream: 'out' | 'err') => (text: string | Uint8Array) => {
    written[stream] += text
    return true
  }
  mkdirSync(folder, { recursive: true })
  process.chdir(folder)
  setEnvironment(environmentIn(folder))
  process.stdout.write = keep('out')
  process.stderr.write = keep('err')
  try {
    const status = await runProgram(args)
    return { status, signal: null, ...written }
  } finally {
    process.stdout.write = before.out
    process.stderr.write = before.err
    setEnvironment(before.environment)
    process.chdir(home)
  }
}

/** Changed in place: packages keep the object that they found. */
function setEnvironment(wanted: NodeJS.ProcessEnv): void {
  for (const name of Object.keys(process.env)) if (!(name in wanted)) delete process.env[name]
  Object.assign(process.env, wanted)
}
