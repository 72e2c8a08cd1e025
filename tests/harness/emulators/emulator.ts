// What a bench shows at a moment into the bytes of an instrument on a serial line: one that talks by itself, and one that is asked.
import type { VirtualSerial } from '../virtual-serial.ts'

/** What there is to be shown. The pressure pulls: an instrument at its tee shows it as a negative number. */
export type Shown = { suctionPa: number; closed: boolean; timeUs: number }

/**
 * An instrument on `line`, and what is given back ends it. One that is asked listens at once; one that talks waits until the
 * line is `opened`, for what is sent before would come all at one time.
 */
export type Emulator = (
  line: VirtualSerial,
  shows: () => Shown,
  opened: Promise<unknown>,
) => (() => unknown) | Promise<() => unknown>

/** Across a closed contact, its leads included. */
export const closedOhm = 0.3

/** One that sends `says` by itself, each `periodMs`. */
export const talks =
  (periodMs: number, says: (shown: Shown) => string | Buffer): Emulator =>
  (line, shows, opened) => {
    let talking: NodeJS.Timeout | undefined
    let isOver = false
    opened.then(() => {
      if (!isOver) talking = setInterval(() => line.write(says(shows())), periodMs)
    })
    return () => {
      isOver = true
      clearInterval(talking)
    }
  }

/** One that says `says` to each `query`, and nothing to anything else. `end` is the character that ends what is heard. */
export const answers =
  (query: string, end: string, says: (shown: Shown) => string): Emulator =>
  (line, shows) => {
    let heard = ''
    line.onReceived = (bytes) => {
      const lines = `${heard}${bytes.toString('latin1')}`.split(end)
      heard = lines.pop() ?? ''
      for (const each of lines) if (each.trim() === query) line.write(says(shows()))
    }
    return () => {
      line.onReceived = () => {}
    }
  }
