// A recording on disk into the run it tells.
import { initialRun, type Run, step } from '../core/intake/run.ts'
import { asProblem, Problem } from '../errors.ts'
import { createReader } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { replay } from '../source/replay.ts'
import type { FindDecode } from './bind-drivers.ts'

/** The run after the last event of the recording at `path`. Throws a Problem that names the file where it is none. */
export async function foldRecording(path: string, findDecode: FindDecode): Promise<Run> {
  return naming(path, () => runSession({ source: replay(path, createReader()), initial: initialRun(findDecode), step }))
}

/** What `action` gives; what it throws comes out as a Problem with `path` named in it. */
export async function naming<T>(path: string, action: () => Promise<T>): Promise<T> {
  try {
    return await action()
  } catch (error) {
    const problem = asProblem(error)
    throw problem.message.includes(path) ? problem : new Problem(problem.code, `${path}: ${problem.message}`)
  }
}
