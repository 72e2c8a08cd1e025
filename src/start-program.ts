// The program under a Node that fits: what goes wrong becomes one sentence and a next step, never a stack trace.
import { existsSync, mkdirSync } from 'node:fs'
import { enableCompileCache } from 'node:module'
import { dirname } from 'node:path'
import { asProblem, exitCodes } from './errors.ts'
import { userFolders } from './user-folders.ts'

// 128 + SIGPIPE, as a shell reports it: a reader that went away is no verdict.
const readerGone = 141

/** The program in a process of its own: guarded, and kept compiled from one start to the next. Gives the exit status. */
export function startProgram(args: readonly string[]): Promise<number> {
  guardProcess()
  keepCompiled()
  return runProgram(args)
}

/**
 * Runs the command that `args` name, or opens the start screen where there is nothing at all and a terminal. Each is
 * loaded only where it is asked for. Resolves to the exit status; what goes wrong is said on stderr.
 */
export async function runProgram(args: readonly string[]): Promise<number> {
  try {
    if (args.length === 0 && process.stdin.isTTY && process.stdout.isTTY)
      return await (await import('./commands/start/start-screens.ts')).startScreens()
    return await (await import('./cli.ts')).runCommand(args)
  } catch (error) {
    return report(error)
  }
}

/** Says what went wrong on stderr; gives the exit status. */
function report(error: unknown): number {
  const problem = asProblem(error)
  process.stderr.write(`makebreak: ${problem.message}\n${problem.next}\n`)
  return problem.exitCode
}

function guardProcess(): void {
  const stop = (error: unknown) => process.exit(report(error))
  process.on('uncaughtException', stop)
  process.on('unhandledRejection', stop)
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(readerGone)
    throw error
  })
  process.stderr.on('error', () => process.exit(exitCodes.internal))
}

/**
 * Keeps the compiled program from one start to the next; where the folder cannot be written, nothing is kept and nothing
 * said. The variable tells it to the acquisition process too.
 */
function keepCompiled(): void {
  const { cache } = userFolders()
  if (!existsSync(cache)) {
    // One by one: Node never ends making a whole path where a file system says of the folder above that it is not there.
    for (const folder of [dirname(cache), cache])
      try {
        mkdirSync(folder)
      } catch {}
    if (!existsSync(cache)) return
  }
  process.env['NODE_COMPILE_CACHE'] ??= cache
  // From Node 22.1 on; help is printed by older ones too.
  enableCompileCache?.()
}
