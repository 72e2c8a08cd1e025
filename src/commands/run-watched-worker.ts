// A command line, in a thread of its own, into what it prints and its exit status: drivers of the user's own run here and nowhere else.
import { parentPort } from 'node:worker_threads'
import { runCommand } from '../cli.ts'
import { asProblem } from '../errors.ts'
import { startHeartbeat } from '../heartbeat.ts'
import { loadDrivers } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'
import { printTo } from './print.ts'
import type { WatchedReport } from './run-watched.ts'

const { data } = startHeartbeat()
const say = (report: WatchedReport) => parentPort?.postMessage(report)

printTo((as, text) => say({ type: 'printing', as, text }))
// First of all, so that a file that ends or hangs the thread as it loads is named. Whatever else is wrong with it, the command finds.
await loadDrivers(userFolders().drivers, (file) => say({ type: 'loading', file })).catch(() => {})
say({ type: 'loading', file: null })
try {
  say({ type: 'over', status: await runCommand(data as string[]) })
} catch (error) {
  const { code, message, next } = asProblem(error)
  say({ type: 'refused', code, text: message, next })
}
