#!/usr/bin/env node
// Chooses a Node that can run the program, this one or the one installed beside it, and hands the arguments on.
// It must load on any Node from 18 on, so nothing is imported statically but node: modules.
import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { constants } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const relaunched = 'MAKEBREAK_RELAUNCHED'

/** Whether this Node can run the program: the argument parser asks for 22.12. */
function thisNodeFits(): boolean {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  return major > 22 || (major === 22 && minor >= 12)
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
function relaunch(node: string): void {
  const child = spawn(node, [fileURLToPath(import.meta.url), ...process.argv.slice(2)], {
    stdio: 'inherit',
    env: { ...process.env, [relaunched]: '1' },
  })
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const
  // Ctrl-C reaches the child twice then, once from the terminal: every command takes a second one as the first.
  for (const signal of signals) process.on(signal, () => child.kill(signal))
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

const pinned = thisNodeFits() ? null : findPinnedNode()
if (thisNodeFits()) {
  process.env['NODE_ENV'] ??= 'production'
  const { guardProcess, runCli } = await import('./cli.ts')
  guardProcess()
  process.exitCode = await runCli(process.argv.slice(2))
} else if (pinned !== null && process.env[relaunched] !== '1') {
  relaunch(pinned)
} else {
  console.error(
    `makebreak: Node 22.12 or newer is needed and this is ${process.version}; install Node 24, then run the command again.`,
  )
  process.exit(78)
}
