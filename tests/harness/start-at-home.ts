// The built program on a terminal, as a user whose home lies in a folder of the test; it ends with the test.
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { programPath } from './run-program.ts'
import { startTerminal, type Terminal } from './terminal.ts'

/** What runs in the same `folder` has the same home. */
export function startAtHome(folder: string, args: readonly string[], size: { rows?: number } = {}): Terminal {
  const own = join(folder, 'home')
  const home = { HOME: own, XDG_CONFIG_HOME: join(own, 'config'), XDG_DATA_HOME: join(own, 'data') }
  const terminal = startTerminal([process.execPath, programPath, ...args], { folder, environment: home, ...size })
  onTestFinished(() => {
    if (terminal.exit() === null) terminal.kill()
  })
  return terminal
}
