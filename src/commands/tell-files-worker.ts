// A thread beside the main one: takes files like that does, and says what is told of each.
import { parentPort, workerData } from 'node:worker_threads'
import type { CheckOptions } from './check.ts'
import type { ReplayOptions } from './replay.ts'
import { type Job, type TellFile, takeFiles, type WorkerOrder, type WorkerSays } from './tell-files.ts'

const { files, job, taken } = workerData as WorkerOrder
const say = (says: WorkerSays) => parentPort?.postMessage(says)

async function tellFileOf({ name, options }: Job): Promise<TellFile> {
  if (name === 'check') return (await import('./check.ts')).createCheck(options as CheckOptions)
  return (await import('./replay.ts')).createReplay(options as ReplayOptions)
}

await takeFiles(files, taken, await tellFileOf(job), (place, told) => say({ place, told }))
say(null)
