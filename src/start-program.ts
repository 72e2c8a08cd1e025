// The program under a Node that fits: what goes wrong becomes one sentence and a next step, never a stack trace.
import { existsSync, mkdirSync } from 'node:fs'
import { enableCompileCache } from 'node:module'
import { dirname } from 'node:path'
import { asProblem, exitCodes, Problem } from './errors.ts'
import { heedLauncher } from './heed-launcher.ts'
import { openStandardStreams } from './standard-streams.ts'
import { userFolders } from './user-folders.ts'

// 128 + SIGPIPE, as a shell reports it: a reader that went away is no verdict.
const readerGone = 141

/** The exit status, once the program itself has given one: nothing else may end it as if a part had passed. */
let given: number | null = null

/** The program in a process of its own: guarded, and kept compiled from one start to the next. Gives the exit status. */
export async function startProgram(args: readonly string[]): Promise<number> {
  guardProcess()
  heedLauncher()
  keepCompiled()
  given = await runProgram(args)
  return given
}

/**
 * Runs the command that `args` name, or opens the start screen where there is nothing at all and a terminal. Each is
 * loaded only where it is asked for. Resolves to the exit status; what goes wrong is said on stderr.
 */
export async function runProgram(args: readonly string[]): Promise<number> {
  try {
    if (args.length === 0 && process.stdout.isTTY && process.stdin.isTTY)
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
  const exit = (status: number) => {
    given = status
    process.exit(status)
  }
  const stop = (error: unknown) => exit(report(error))
  process.on('uncaughtException', stop)
  process.on('unhandledRejection', stop)
  openStandardStreams()
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') exit(readerGone)
    throw error
  })
  process.stderr.on('error', () => exit(exitCodes.internal))
  // A driver of the user's own may call process.exit, or wait for ever for what never comes.
  process.on('exit', () => {
    process.exitCode = given ?? report(new Problem('internal', 'The program was ended before it came to a result.'))
  })
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
