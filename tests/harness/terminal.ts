// A program in a pseudo-terminal with a screen that can be read: whole-program tests press keys here and look.
import pty from '@lydell/node-pty'
import xterm, { type IBufferCell } from '@xterm/headless'
import { until } from './until.ts'

/** Colours: `default`, `p` and the number in the palette, or `#rrggbb`. */
export type CellStyle = { fg: string; bg: string; bold: boolean; dim: boolean; inverse: boolean }
/** One cell; `text` is empty where a wide character before it covers it. */
export type Cell = CellStyle & { text: string }

export type Terminal = {
  screen(): string
  line(row: number): string
  /** Style of the first cell of the first place where `text` stands; null where it does not. */
  style(text: string): CellStyle | null
  /** The whole screen, row by row. */
  cells(): Cell[][]
  /** Waits until the screen shows `text`. */
  see(text: string): Promise<unknown>
  /** Waits until `look` comes true; a failure shows the screen. */
  until(look: () => unknown, what: string, limitMs?: number): Promise<unknown>
  key(bytes: string): void
  resize(columns: number, rows: number): void
  /** `alternate` while the program has the whole screen. */
  buffer(): 'normal' | 'alternate'
  /** All that the program has written so far. */
  output(): string
  pid: number
  kill(signal?: string): void
  /** Exit status and signal once the program has ended. */
  exit(): { exitCode: number; signal?: number | undefined } | null
}

type Options = { columns?: number; rows?: number; environment?: Record<string, string>; folder?: string }

const blank: Cell = { text: ' ', fg: 'default', bg: 'default', bold: false, dim: false, inverse: false }

// What the test runner sets and a user's terminal does not.
const runnerVariables = ['CI', 'VITEST', 'NODE_ENV', 'MAKEBREAK_RELAUNCHED']

/** Gives up the test on the screen, and leaves its verdict; the program has ended then. */
export async function abandonTest(terminal: Terminal): Promise<void> {
  terminal.key('q')
  await terminal.see('End the test now?')
  terminal.key('a')
  await terminal.see('Enter leave')
  terminal.key('\r')
  await terminal.until(() => terminal.exit(), 'the program to end')
}

/** Starts `command` in a terminal of 80 × 24 cells, or as `options` say. */
export function startTerminal(command: readonly string[], options: Options = {}): Terminal {
  const { columns = 80, rows = 24, environment = {}, folder } = options
  const term = new xterm.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 0 })
  const inherited = Object.fromEntries(Object.entries(process.env).filter(([name]) => !runnerVariables.includes(name)))
  const [file = '', ...args] = command
  const child = pty.spawn(file, args, {
    cols: columns,
    rows,
    name: 'xterm-256color',
    env: { ...inherited, ...environment },
    ...(folder === undefined ? {} : { cwd: folder }),
  })
  let exit: ReturnType<Terminal['exit']> = null
  let output = ''
  child.onData((data) => {
    output += data
    term.write(data)
  })
  term.onData((data) => child.write(data))
  child.onExit((how) => {
    exit = how
  })

  const bufferLine = (row: number) => term.buffer.active.getLine(row + term.buffer.active.viewportY)
  const line = (row: number) => bufferLine(row)?.translateToString(true) ?? ''
  const screen = () => Array.from({ length: term.rows }, (_, row) => line(row)).join('\n')
  const colour = (isRgb: boolean, isDefault: boolean, value: number) =>
    isRgb ? `#${value.toString(16).padStart(6, '0')}` : isDefault ? 'default' : `p${value}`
  const styleOf = (cell: IBufferCell): CellStyle => ({
    fg: colour(cell.isFgRGB(), cell.isFgDefault(), cell.getFgColor()),
    bg: colour(cell.isBgRGB(), cell.isBgDefault(), cell.getBgColor()),
    bold: cell.isBold() !== 0,
    dim: cell.isDim() !== 0,
    inverse: cell.isInverse() !== 0,
  })

  const terminal: Terminal = {
    screen,
    line,
    style(text) {
      for (let row = 0; row < term.rows; row++) {
        const column = line(row).indexOf(text)
        const cell = column < 0 ? undefined : bufferLine(row)?.getCell(column)
        if (cell) return styleOf(cell)
      }
      return null
    },
    cells: () =>
      Array.from({ length: term.rows }, (_, row) =>
        Array.from({ length: term.cols }, (_, column): Cell => {
          const cell = bufferLine(row)?.getCell(column)
          return cell ? { ...styleOf(cell), text: cell.getChars() || (cell.getWidth() === 0 ? '' : ' ') } : blank
        }),
      ),
    see: (text) => terminal.until(() => screen().includes(text), `"${text}" on the screen`),
    async until(look, what, limitMs) {
      try {
        return await until(look, what, limitMs)
      } catch (error) {
        throw new Error(`${(error as Error).message}\n${screen()}`)
      }
    },
    key: (bytes) => child.write(bytes),
    resize(toColumns, toRows) {
      term.resize(toColumns, toRows)
      child.resize(toColumns, toRows)
    },
    buffer: () => term.buffer.active.type,
    output: () => output,
    pid: child.pid,
    kill: (signal = 'SIGKILL') => child.kill(signal),
    exit: () => exit,
  }
  return terminal
}
