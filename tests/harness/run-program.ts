// Runs the built program with its own empty folders; gives what it printed and how it ended.
import { type ChildProcess, type SpawnOptions, spawn } from 'node:child_process'
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const programPath = fileURLToPath(new URL('../../dist/src/main.js', import.meta.url))

export type Ended = { status: number | null; signal: NodeJS.Signals | null; out: string; err: string }
export type Program = { child: ChildProcess; ended: Promise<Ended>; out: () => string; err: () => string }

/** The environment of a user whose folders are in `folder`, without what the test runner sets. */
export function environmentIn(folder: string): NodeJS.ProcessEnv {
  const { CI: _ci, NODE_ENV: _mode, VITEST: _vitest, ...env } = process.env
  const home = join(folder, 'home')
  return { ...env, HOME: home, XDG_CONFIG_HOME: join(home, 'config'), XDG_DATA_HOME: join(home, 'data') }
}

/** Starts the built program in `folder`, which also holds its user folders; standard input is empty. */
export function startProgram(folder: string, args: readonly string[], nodeArgs: readonly string[] = []): Program {
  mkdirSync(join(folder, 'home'), { recursive: true })
  const options: SpawnOptions = { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'], env: environmentIn(folder) }
  const child = spawn(process.execPath, [...nodeArgs, programPath, ...args], options)
  let [out, err] = ['', '']
  child.stdout?.setEncoding('utf8').on('data', (text: string) => {
    out += text
  })
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    err += text
  })
  const ended = new Promise<Ended>((done, fail) => {
    child.on('error', fail)
    child.on('close', (status, signal) => done({ status, signal, out, err }))
  })
  return { child, ended, out: () => out, err: () => err }
}

/** As startProgram, awaited to its end. */
export function runProgram(folder: string, args: readonly string[], nodeArgs: readonly string[] = []): Promise<Ended> {
  return startProgram(folder, args, nodeArgs).ended
}
