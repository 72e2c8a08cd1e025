// An old Node into the one installed beside the program: the same arguments, and whatever happens there comes back.
// It must load on any Node from 18 on, so nothing is imported but node: modules.
import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { constants } from 'node:os'
import { dirname, join } from 'node:path'

const relaunched = 'MAKEBREAK_RELAUNCHED'

/** Starts the program once more under the pinned Node; where there is none, one sentence says which Node is needed. */
export function relaunch(): void {
  const pinned = process.env[relaunched] === '1' ? null : findPinnedNode()
  if (pinned === null) {
    console.error(
      `makebreak: Node 22.13 or newer is needed and this is ${process.version}; install Node 24, then run the command again.`,
    )
    process.exit(78)
  }
  runUnder(pinned)
}

/** Path of the pinned Node for this platform, wherever the package manager put it; null where there is none. */
function findPinnedNode(): string | null {
  const windows = process.platform === 'win32'
  const name = `node-${windows ? 'win' : process.platform}-${process.arch}`
  try {
    const folder = dirname(createRequire(import.meta.url).resolve(`${name}/package.json`))
    const file = join(folder, 'bin', windows ? 'node.exe' : 'node')
    return existsSync(file) ? file : null
  } catch {
    return null
  }
}

/** Runs the program under `node`; signals go down, the exit status or the signal comes back up. */
function runUnder(node: string): void {
  const program = process.argv[1] ?? ''
  const child = spawn(node, [program, ...process.argv.slice(2)], {
    // The channel tells the program when this process is gone, however that came about.
    stdio: ['inherit', 'inherit', 'inherit', 'ipc'],
    env: { ...process.env, [relaunched]: '1' },
  })
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const
  // Ctrl-C reaches the child twice then, once from the terminal: every command takes a second one as the first.
  for (const signal of signals)
    process.on(signal, () => {
      // A signal sent to a process on Windows ends it at once.
      if (process.platform === 'win32' && child.connected) child.send({ signal })
      else child.kill(signal)
    })
  child.on('error', (error) => {
    console.error(`makebreak: could not start ${node}: ${error.message}`)
    process.exit(70)
  })
  child.on('exit', (code, signal) => {
    if (signal === null) process.exit(code ?? 70)
    process.removeAllListeners(signal)
    process.kill(process.pid, signal)
    // Not every signal ends this process: the shell's convention for the rest.
    setTimeout(() => process.exit(128 + constants.signals[signal]), 50)
  })
}
