// A serial port into a line that can be listened to and asked under one setting after the other.
import { existsSync } from 'node:fs'
import { setTimeout as wait } from 'node:timers/promises'
import { SerialPort } from 'serialport'
import type { SerialSettings } from '../driver.ts'
import { openProblem, Problem } from '../errors.ts'
import { hardenedBinding } from '../hardened-binding.ts'
import type { Piece } from '../learn/heard.ts'
import { createPowerLines, type PowerLines } from '../ports/power-lines.ts'

export type Line = {
  /** Goes over to `settings`; what came before is forgotten. */
  set(settings: SerialSettings): Promise<void>
  /** What comes within `ms`, or until it is `enough`. */
  listen(ms: number, enough?: (pieces: readonly Piece[]) => boolean): Promise<Piece[]>
  /** `bytes` and what comes after them: within `ms`, or until the answer has ended. */
  ask(bytes: string, ms: number): Promise<Piece[]>
}

/** A noisy line at full speed is not kept for longer than this. */
const mostKept = 20_000
const closeLimitMs = 1000
const lookEveryMs = 10
/** An answer has ended after so long without a byte: longer than a USB adapter holds bytes back (16 ms), and so many characters. */
const quiet = { ms: 40, characters: 12 }
const bitsOfCharacter = 11

/**
 * Opens `path`; while nothing comes, DTR and RTS are tried in turn for `powerEachMs`, where that is given. Rejects with a Problem where it cannot be opened; what is asked of a port that has gone
 * does the same.
 */
export async function openLine(
  path: string,
  settings: SerialSettings,
  powerEachMs: number | null = null,
): Promise<Line & { close(): Promise<void> }> {
  let now = settings
  let port = await open(path, now)
  let pieces: Piece[] = []
  let kept = 0
  let gone: Problem | null = null
  let power: PowerLines | null = null

  function heed(opened: SerialPort): void {
    // A pseudo-terminal has no such lines, and says so.
    if (powerEachMs !== null) power = createPowerLines((way) => opened.set(way, () => {}), powerEachMs)
    opened.on('data', (chunk: Buffer) => {
      power?.heard()
      if (opened !== port || kept > mostKept) return
      kept += chunk.length
      pieces.push({ atMs: performance.now(), way: 'received', text: chunk.toString('latin1') })
    })
    opened.on('error', () => {})
    opened.on('close', () => {
      if (opened === port) gone = new Problem('port-absent', `The port ${path} went away.`)
    })
  }
  heed(port)

  /** What came since it was last taken, once `over` says so. */
  async function take(ms: number, over: () => boolean): Promise<Piece[]> {
    // Not every system says so of a port that is pulled. Windows names ports that are no files.
    if (process.platform !== 'win32' && !existsSync(path))
      gone ??= new Problem('port-absent', `The port ${path} went away.`)
    const endMs = performance.now() + ms
    while (performance.now() < endMs && !over()) {
      if (gone) throw gone
      await wait(Math.min(lookEveryMs, ms))
    }
    const taken = pieces
    pieces = []
    kept = 0
    return taken
  }

  async function close(): Promise<void> {
    const old = port
    power?.stop()
    gone = new Problem('port-absent', `The port ${path} is closed.`)
    if (!old.isOpen) return
    // Closing can hang on a port with unsent bytes: never waited for without a limit.
    await Promise.race([new Promise<void>((done) => old.close(() => done())), wait(closeLimitMs)])
  }

  return {
    async set(to) {
      const { baudRate, ...frame } = now
      const sameFrame = Object.entries(frame).every(([name, value]) => to[name as keyof SerialSettings] === value)
      // A board begins from the beginning each time that its port is opened: where the rate alone changes it stays open.
      if (sameFrame && baudRate !== to.baudRate)
        await new Promise<void>((done, fail) =>
          port.update({ baudRate: to.baudRate }, (error) => (error ? fail(openProblem(path, error.message)) : done())),
        )
      if (!sameFrame) {
        await close()
        port = await open(path, to)
        gone = null
        heed(port)
      }
      now = to
      pieces = []
      kept = 0
    },
    listen(ms, enough = () => false) {
      let looked = 0
      return take(ms, () => {
        const more = pieces.length > looked
        looked = pieces.length
        return more && enough(pieces)
      })
    },
    ask(bytes, ms) {
      pieces = [{ atMs: performance.now(), way: 'sent', text: bytes }]
      kept = 0
      port.write(Buffer.from(bytes, 'latin1'))
      const quietMs = quiet.ms + (1000 * quiet.characters * bitsOfCharacter) / now.baudRate
      return take(ms, () => pieces.length > 1 && performance.now() - pieces.at(-1)!.atMs > quietMs)
    },
    close,
  }
}

function open(path: string, settings: SerialSettings): Promise<SerialPort> {
  return new Promise((done, fail) => {
    // The options' type does not name the binding, but it is taken from them.
    const options = { path, ...settings, autoOpen: false, binding: hardenedBinding }
    const port = new SerialPort(options)
    port.open((error) => (error ? fail(openProblem(path, error.message)) : done(port)))
  })
}
