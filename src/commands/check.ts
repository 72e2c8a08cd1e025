// `check`: whether recordings are whole: torn, damaged lines, seal; and whether their verdict would be another today.

import { initialRun, type Run, step } from '../core/intake/run.ts'
import type { RecordedEvent } from '../core/model/event.ts'
import { asProblem, Problem } from '../errors.ts'
import { createReader } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { replay } from '../source/replay.ts'
import { recordedText } from '../terminal/text/recorded-text.ts'
import { errorStatus, gravestStatus } from './exit-status.ts'
import { foldRecording, naming } from './fold-recording.ts'
import { print } from './print.ts'

const damaged = 2
/** Damaged lines named one by one; the rest are counted. */
const maxNamed = 5

/** Prints one line a file. Exit status: 0 all whole, 2 one is not, 65 one cannot be read. */
export async function checkFiles(files: readonly string[]): Promise<number> {
  const statuses: number[] = []
  for (const file of files) {
    try {
      const { run, faults } = await naming(file, () => faultsOf(file))
      statuses.push(faults.length > 0 ? damaged : 0)
      const told = [...(faults.length > 0 ? faults : ['whole, sealed']), ...(await today(file, run))]
      print(`${file}: ${told.join('; ')}`)
    } catch (error) {
      statuses.push(errorStatus(error))
      const { message, next } = asProblem(error)
      process.stderr.write(`makebreak: ${message}\n${next}\n`)
    }
  }
  return gravestStatus(statuses)
}

type State = { run: Run; corrupt: Extract<RecordedEvent, { type: 'corrupt' }>[]; tornBytes: number }

/** Nothing is decoded here: a file without its driver can be checked too. */
async function faultsOf(file: string): Promise<{ run: Run; faults: string[] }> {
  const deaf = () => () => ({ readings: [], faults: [], memory: null })
  const { run, corrupt, tornBytes } = await runSession<State>({
    source: replay(file, createReader()),
    initial: { run: initialRun(deaf), corrupt: [], tornBytes: 0 },
    step: (state, event) => ({
      run: step(state.run, event),
      corrupt: event.type === 'corrupt' ? [...state.corrupt, event].slice(0, maxNamed) : state.corrupt,
      tornBytes: event.type === 'torn' ? event.bytes : state.tornBytes,
    }),
  })
  const named = corrupt.map(({ line, offset, why }) => `line ${line} (byte ${offset}) damaged: ${why}`)
  const more = run.damage.corruptLines.length - named.length
  if (more > 0) named.push(`and ${more} more damaged ${more === 1 ? 'line' : 'lines'}`)
  if (tornBytes > 0) named.push(`torn: ${tornBytes} bytes after the last whole line`)
  if (run.damage.seal === 'broken') named.push('seal broken: it does not match what stands before it')
  if (run.damage.seal === 'missing') named.push('no seal at its end')
  return { run, faults: named }
}

/**
 * What is otherwise today: what is said of the test, and the drivers. Of a verdict nothing is told where a driver is not
 * there or the first line is damaged.
 */
async function today(file: string, { recorded, setup }: Run): Promise<string[]> {
  if (recorded === null && setup?.start.drivers === undefined) return []
  const [{ resultOf }, { bindDrivers }, { changedDrivers }, { loadDrivers }, { userFolders }] = await Promise.all([
    import('../core/judge.ts'),
    import('./bind-drivers.ts'),
    import('./changed-drivers.ts'),
    import('../load-drivers.ts'),
    import('../user-folders.ts'),
  ])
  const told: string[] = []
  try {
    const drivers = await loadDrivers(userFolders().drivers)
    if (setup !== null) told.push(...changedDrivers(setup.start, drivers).map((note) => note.replace(/\.$/, '')))
    const result = recorded === null ? null : resultOf(await foldRecording(file, bindDrivers(drivers)))
    if (result !== null) told.unshift(recordedText(result))
  } catch (error) {
    if (!(error instanceof Problem)) throw error
  }
  return told.filter((text) => text !== '')
}
