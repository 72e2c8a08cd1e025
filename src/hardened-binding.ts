// The serial library's binding into one that notices a vanished device and hands over what it has read at once.
import { read } from 'node:fs'
import { promisify } from 'node:util'
import { SerialPort } from 'serialport'

type Poller = {
  on(event: 'readable' | 'writable', listener: () => void): void
  once(event: 'readable', listener: (error: Error | null) => void): void
}
// Internals of the library's POSIX ports: no poller on Windows.
type UnixPort = {
  fd: number
  isOpen: boolean
  poller?: Poller
  read(buffer: Buffer, offset: number, length: number): Promise<{ bytesRead: number; buffer: Buffer }>
}

const readFile = promisify(read)
const waitCodes = ['EAGAIN', 'EWOULDBLOCK', 'EINTR']
const closedError = () => Object.assign(new Error('Port is not open'), { canceled: true })

/**
 * The library reads a hung-up device for ever (0 bytes, no event, a core at full load; serialport/bindings-cpp issue 162):
 * here 0 bytes are a hang-up. And on Node 26.4 and newer its poller's events wake nothing until something else does
 * (serialport/node-serialport issue 3148): here each of them does.
 */
export const hardenedBinding = {
  list: () => SerialPort.binding.list(),
  async open(options: object) {
    // The library's own options, passed on as they came; its type asks for those of every platform at once.
    const opened = await SerialPort.binding.open(options as never)
    const port = opened as unknown as UnixPort
    const { poller } = port
    if (!poller) return opened
    for (const event of ['readable', 'writable'] as const) poller.on(event, () => setImmediate(() => {}))
    port.read = async (buffer, offset, length) => {
      for (;;) {
        if (!port.isOpen) throw closedError()
        try {
          const { bytesRead } = await readFile(port.fd, buffer, offset, length, null)
          if (bytesRead > 0) return { bytesRead, buffer }
          throw Object.assign(new Error('device hung up'), { disconnect: true })
        } catch (error) {
          if (!port.isOpen) throw closedError()
          if (!waitCodes.includes((error as NodeJS.ErrnoException).code ?? '')) throw error
          await new Promise<void>((resolve, reject) => {
            poller.once('readable', (failed) => (failed ? reject(failed) : resolve()))
          })
        }
      }
    }
    return opened
  },
}
