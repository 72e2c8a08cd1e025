// `replay`: recordings into their results, as text, as one line of JSON each, or watched at their own pace.
import type { Run } from '../core/intake/run.ts'
import { asProblem, Problem } from '../errors.ts'
import { ours } from '../heartbeat.ts'
import { loadDrivers } from '../load-drivers.ts'
import { namesText } from '../terminal/screens/recording-row.ts'
import { budgetLines } from '../terminal/text/budget-lines.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers, type FindDecode } from './bind-drivers.ts'
import { changedDrivers } from './changed-drivers.ts'
import { closingLines, type Told, tell, titleOf } from './describe-run.ts'
import { errorStatus, verdictStatus } from './exit-status.ts'
import { foldRecording, naming } from './fold-recording.ts'
import type { ToldRecording } from './play-recording.ts'
import { print, printWords } from './print.ts'
import { type TellFile, tellFiles } from './tell-files.ts'

export type ReplayOptions = { json?: true; budget?: true; watch?: true; speed?: number }

/** Prints the result of each file; one that cannot be read does not stop the others. Gives the gravest exit status. */
export async function replayFiles(files: readonly string[], options: ReplayOptions): Promise<number> {
  if (options.speed !== undefined && !options.watch) throw new Problem('usage', '--speed is for --watch only.')
  if (options.watch && options.json) throw new Problem('usage', '--watch draws and --json does not: choose one.')
  if (options.budget && options.json) throw new Problem('usage', '--json holds the budget already: leave --budget out.')
  if (options.watch && files.length > 1) throw new Problem('usage', `--watch takes one file, not ${files.length}.`)
  const tellFile = await createReplay(options)
  return tellFiles(files, { job: { name: 'replay', options }, tellFile, print: options.json ? print : printWords })
}

/** What is told of a file: its result as text, or as one line that stays JSON; or why it cannot be read, in its place. */
export async function createReplay(options: ReplayOptions): Promise<TellFile> {
  const toldOf = options.watch ? await createWatch(options.speed ?? 1) : await createTold(foldRecording)
  return async (file) => {
    try {
      const { told, notes } = await naming(file, () => toldOf(file))
      const lines = options.json
        ? [JSON.stringify({ file, ...told.result, ...(notes.length > 0 && { notes }) })]
        : [
            `${file}: ${titleOf(told.setup.start)}`,
            ...namesText(told.setup.start),
            ...linesOf(told, options),
            ...notes,
            '',
          ]
      return { status: verdictStatus(told.result.verdict), lines, wrong: null }
    } catch (error) {
      const { code, message, next } = asProblem(error)
      const status = errorStatus(error)
      if (options.json)
        return { status, lines: [JSON.stringify({ file, error: { code, text: message } })], wrong: null }
      return { status, lines: [], wrong: `makebreak: ${message}\n${next}\n` }
    }
  }
}

type ToldOf = (file: string) => Promise<ToldRecording>

/** What a file comes to, its run being what `fold` makes of it with the drivers of today. */
async function createTold(fold: (file: string, findDecode: FindDecode) => Promise<Run>): Promise<ToldOf> {
  const drivers = await loadDrivers(userFolders().drivers)
  const findDecode = bindDrivers(drivers)
  return async (file) => {
    const run = await fold(file, findDecode)
    const told = ours(() => tell(run))
    return { told, notes: changedDrivers(told.setup.start, drivers) }
  }
}

/** The same once it was watched; on the screen the drivers are the worker's affair. */
async function createWatch(speed: number): Promise<ToldOf> {
  const { watchesOnScreen, watchInLines, watchOnScreen } = await import('./watch-recording.ts')
  if (watchesOnScreen()) return (file) => watchOnScreen(file, speed)
  return createTold((file, findDecode) => watchInLines(file, findDecode, speed))
}

function linesOf(told: Told, { budget }: ReplayOptions): string[] {
  return [...closingLines(told), ...(budget ? ['', ...budgetLines(told.result, told.setup.start.part)] : [])]
}
