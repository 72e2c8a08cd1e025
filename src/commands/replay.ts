// `replay`: recordings into their results, as text, as one line of JSON each, or watched at their own pace.
import { asProblem, Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import { budgetLines } from '../terminal/text/budget-lines.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers, type FindDecode } from './bind-drivers.ts'
import { changedDrivers } from './changed-drivers.ts'
import { closingLines, type Told, tell, titleOf } from './describe-run.ts'
import { errorStatus, gravestStatus, verdictStatus } from './exit-status.ts'
import { foldRecording, naming } from './fold-recording.ts'
import { print, printWords } from './print.ts'

export type ReplayOptions = { json?: true; budget?: true; watch?: true; speed?: number }

/** Prints the result of each file; one that cannot be read does not stop the others. Gives the gravest exit status. */
export async function replayFiles(files: readonly string[], options: ReplayOptions): Promise<number> {
  if (options.speed !== undefined && !options.watch) throw new Problem('usage', '--speed is for --watch only.')
  if (options.watch && options.json) throw new Problem('usage', '--watch draws and --json does not: choose one.')
  if (options.budget && options.json) throw new Problem('usage', '--json holds the budget already: leave --budget out.')
  if (options.watch && files.length > 1) throw new Problem('usage', `--watch takes one file, not ${files.length}.`)
  const drivers = await loadDrivers(userFolders().drivers)
  const findDecode = bindDrivers(drivers)
  const statuses: number[] = []
  for (const file of files) {
    try {
      const told = await resultOfFile(file, findDecode, options)
      statuses.push(verdictStatus(told.result.verdict))
      const notes = changedDrivers(told.setup.start, drivers)
      if (options.json) printJson({ file, ...told.result, ...(notes.length > 0 && { notes }) })
      else
        for (const line of [`${file}: ${titleOf(told.setup)}`, ...linesOf(told, options), ...notes, ''])
          printWords(line)
    } catch (error) {
      statuses.push(errorStatus(error))
      const { code, message, next } = asProblem(error)
      if (options.json) printJson({ file, error: { code, text: message } })
      else process.stderr.write(`makebreak: ${message}\n${next}\n`)
    }
  }
  return gravestStatus(statuses)
}

function resultOfFile(file: string, findDecode: FindDecode, options: ReplayOptions): Promise<Told> {
  return naming(file, async () =>
    tell(
      options.watch
        ? await (await import('./watch-recording.ts')).watchRecording(file, findDecode, options.speed ?? 1)
        : await foldRecording(file, findDecode),
    ),
  )
}

function linesOf(told: Told, { budget }: ReplayOptions): string[] {
  return [...closingLines(told), ...(budget ? ['', ...budgetLines(told.result, told.setup.start.part)] : [])]
}

/** One line that stays JSON: what a terminal could obey is escaped as JSON escapes it. */
function printJson(value: object): void {
  print(JSON.stringify(value))
}
