// Opens one port for a few seconds and keeps what it sends; a port that stays silent may be asked.
import { setTimeout as wait } from 'node:timers/promises'
import { SerialPort } from 'serialport'
import { type Driver, resolveOptions } from '../driver.ts'
import { openProblem } from '../errors.ts'

/** A noisy line at full speed is not kept for longer than this. */
const maxKept = 20_000
const closeLimitMs = 1000

/**
 * What arrived at `path` within `seconds`, as latin1 text, and which driver's question it answers (null: it was sent
 * unasked). With `askers`, half of the time is for listening and the rest is shared out among their questions. Rejects
 * with a Problem where the port cannot be opened.
 */
export async function listenPort(
  path: string,
  baudRate: number,
  seconds: number,
  askers: readonly Driver[],
): Promise<{ text: string; asked: string | null }> {
  const port = await open(path, baudRate)
  let text = ''
  port.on('data', (chunk: Buffer) => {
    if (text.length < maxKept) text += chunk.toString('latin1')
  })
  port.on('error', () => {})
  try {
    const listenMs = seconds * (askers.length > 0 ? 500 : 1000)
    await wait(listenMs)
    if (text !== '') return { text, asked: null }
    for (const driver of askers) {
      const wire = driver.wire(resolveOptions(driver, {}))
      port.write(Buffer.from((wire.start ?? '') + (wire.poll?.bytes ?? ''), 'latin1'))
      await wait(listenMs / askers.length)
      if (text !== '') return { text, asked: driver.id }
    }
    return { text, asked: null }
  } finally {
    // Closing can hang on a port with unsent bytes: never waited for without a limit.
    await Promise.race([new Promise<void>((done) => port.close(() => done())), wait(closeLimitMs)])
  }
}

function open(path: string, baudRate: number): Promise<SerialPort> {
  return new Promise((done, fail) => {
    const port = new SerialPort({ path, baudRate, autoOpen: false })
    port.open((error) => (error ? fail(openProblem(path, error.message)) : done(port)))
  })
}
