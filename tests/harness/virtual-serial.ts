// A pseudo-terminal as a serial device under a path of one's own: plugged in, pulled, and spoken through from its far end.
import { closeSync, constants, openSync, rmSync, symlinkSync, writeSync } from 'node:fs'
import type { ReadStream } from 'node:tty'
import pty from '@lydell/node-pty'

// What node-pty's open() gives, beyond its published types.
type Pair = { master: ReadStream; slave: ReadStream; fd: number; _pty: string }
const openPair = (pty as unknown as { open(options: { encoding: null }): Pair }).open

export type VirtualSerial = {
  path: string
  /** Bytes that the program has sent, since the device was made. */
  received(): Buffer
  onReceived: (bytes: Buffer) => void
  plug(): void
  unplug(): void
  write(bytes: string | Buffer): void
}

/** A device that is not yet plugged in; `path` must not exist. */
export function createVirtualSerial(path: string): VirtualSerial {
  let pair: Pair | null = null
  let held = -1
  let waiting = Buffer.alloc(0)
  const chunks: Buffer[] = []
  /** The pair's own stream would try without a pause while the pair is full, and no test would end that. */
  const pass = () => {
    if (!pair || waiting.length === 0) return
    waiting = waiting.subarray(writeSome(pair.fd, waiting))
    if (waiting.length > 0) setTimeout(pass, 5).unref()
  }
  const device: VirtualSerial = {
    path,
    received: () => Buffer.concat(chunks),
    onReceived: () => {},
    plug() {
      pair = openPair({ encoding: null })
      // Held open, unread: the far end would hang up whenever the program closes its side.
      held = openSync(pair._pty, constants.O_RDWR | constants.O_NOCTTY)
      pair.slave.destroy()
      pair.master.on('error', () => {})
      pair.master.on('data', (bytes: Buffer) => {
        chunks.push(bytes)
        device.onReceived(bytes)
      })
      symlinkSync(pair._pty, path)
    },
    unplug() {
      if (!pair) return
      rmSync(path, { force: true })
      closeSync(held)
      pair.master.destroy()
      pair = null
      waiting = Buffer.alloc(0)
    },
    write(bytes) {
      const idle = waiting.length === 0
      waiting = Buffer.concat([waiting, typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes])
      if (idle) pass()
    },
  }
  return device
}

/** Writes what there is room for and gives how much that was. */
function writeSome(fd: number, bytes: Buffer): number {
  try {
    return writeSync(fd, bytes)
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    // Full, or hung up by a program that takes the device over.
    if (code === 'EAGAIN' || code === 'EIO') return 0
    throw error
  }
}
