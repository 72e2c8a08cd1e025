// A pseudo-terminal as a serial device under a path of one's own: plugged in, pulled, and spoken through from its far end.
import { closeSync, constants, openSync, rmSync, symlinkSync } from 'node:fs'
import type { ReadStream } from 'node:tty'
import pty from '@lydell/node-pty'

// What node-pty's open() gives, beyond its published types.
type Pair = { master: ReadStream; slave: ReadStream; _pty: string }
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
  const chunks: Buffer[] = []
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
    },
    write(bytes) {
      pair?.master.write(typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes)
    },
  }
  return device
}
