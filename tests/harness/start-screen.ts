// The built program on a terminal with nothing asked for, in a home of its own: keys, rows chosen, and the terminal given back.
import { mkdirSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { afterEach, expect } from 'vitest'
import { programPath } from './run-program.ts'
import { temporaryFolder } from './temporary-folder.ts'
import { startTerminal, type Terminal } from './terminal.ts'

export const [up, down, right, left, end] = ['\x1b[A', '\x1b[B', '\x1b[C', '\x1b[D', '\x1b[F']
export const [ctrlC, ctrlL, ctrlN, ctrlO, ctrlS] = ['\x03', '\x0c', '\x0e', '\x0f', '\x13']

export type Home = { home: string; parts: string; rigs: string; recordings: string }

/** For one test file: homes and programs that are gone when its tests are. */
export function createDesk() {
  const folder = temporaryFolder()
  const open: Terminal[] = []
  let count = 0
  afterEach(() => {
    for (const terminal of open.splice(0)) if (terminal.exit() === null) terminal.kill()
  })
  const startIn = async (home: string, args: string[], more: Record<string, string> = {}): Promise<Terminal> => {
    const folders = { HOME: home, XDG_CONFIG_HOME: join(home, 'config'), XDG_DATA_HOME: join(home, 'data') }
    // A test may put commands of its own there.
    const path = `${join(home, 'bin')}${delimiter}${process.env['PATH']}`
    const options = { folder: home, environment: { ...folders, PATH: path, ...more } }
    const terminal = startTerminal([process.execPath, programPath, ...args], options)
    open.push(terminal)
    if (args.length === 0) await terminal.see('Enter choose')
    return terminal
  }
  return {
    /** A home with the program's folders in it, empty. */
    newHome(): Home {
      const home = join(folder, `home-${count++}`)
      const places = {
        parts: join(home, 'config', 'makebreak', 'parts'),
        rigs: join(home, 'config', 'makebreak', 'rigs'),
        recordings: join(home, 'data', 'makebreak', 'recordings'),
      }
      for (const place of Object.values(places)) mkdirSync(place, { recursive: true })
      return { home, ...places }
    },
    /** Starts the program; without arguments it waits for the start screen. */
    start: (home: string, ...args: string[]) => startIn(home, args),
    /** The same for a screen reader. */
    startAloud: (home: string) => startIn(home, [], { INK_SCREEN_READER: 'true' }),
  }
}

/** Chooses the row that begins with `name`. */
export async function choose(terminal: Terminal, name: string): Promise<void> {
  for (let i = 0; i < 12 && !terminal.screen().includes(`► ${name}`); i++) {
    const before = terminal.screen()
    terminal.key(down)
    await terminal.until(() => terminal.screen() !== before, 'the cursor to move')
  }
  terminal.key('\r')
}

/** The terminal as a shell finds it again, with this exit status. */
export async function expectGivenBack(terminal: Terminal, exitCode: number): Promise<void> {
  await terminal.until(() => terminal.exit(), 'the program to end')
  expect(terminal.exit()?.exitCode).toBe(exitCode)
  expect(terminal.buffer()).toBe('normal')
  const output = terminal.output()
  expect(output.lastIndexOf('\x1b[?25h')).toBeGreaterThan(output.lastIndexOf('\x1b[?25l'))
  expect(output.lastIndexOf('\x1b[?2004l')).toBeGreaterThan(output.lastIndexOf('\x1b[?2004h'))
}
