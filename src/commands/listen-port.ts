// Opens one port for a few seconds and keeps what it sends; a port that stays silent may be asked.
import { setTimeout as wait } from 'node:timers/promises'
import { SerialPort } from 'serialport'
import { type DriverFacts, resolveOptions, wireOf } from '../driver.ts'
import { openProblem } from '../errors.ts'
import { createPowerLines } from '../ports/power-lines.ts'

/** A noisy line at full speed is not kept for longer than this. */
const maxKept = 20_000
const closeLimitMs = 1000

/** The driver whose question was answered, and that question. */
export type Asked = { id: string; sent: string }

/**
 * What arrived at `path` within `seconds`, as latin1 text, and which driver's question it answers (null: it was sent
 * unasked). With `askers`, half of the time is for listening and the rest is shared out among their questions. Rejects
 * with a Problem where the port cannot be opened.
 */
export async function listenPort(
  path: string,
  baudRate: number,
  seconds: number,
  askers: readonly DriverFacts[],
): Promise<{ text: string; asked: Asked | null }> {
  const port = await open(path, baudRate)
  let text = ''
  // A pseudo-terminal has no such lines, and says so.
  const lines = createPowerLines((way) => port.set(way, () => {}), (seconds * 1000) / 3)
  port.on('data', (chunk: Buffer) => {
    lines.heard()
    if (text.length < maxKept) text += chunk.toString('latin1')
  })
  port.on('error', () => {})
  try {
    const questions = askers.map(questionOf).filter(({ bytes }) => bytes !== '')
    const listenMs = seconds * (questions.length > 0 ? 500 : 1000)
    await wait(listenMs)
    if (text !== '') return { text, asked: null }
    for (const { id, bytes, sent } of questions) {
      port.write(Buffer.from(bytes, 'latin1'))
      await wait(listenMs / questions.length)
      if (text !== '') return { text, asked: { id, sent } }
    }
    return { text, asked: null }
  } finally {
    lines.stop()
    // Closing can hang on a port with unsent bytes: never waited for without a limit.
    await Promise.race([new Promise<void>((done) => port.close(() => done())), wait(closeLimitMs)])
  }
}

/** The first of a driver's queries, and all that goes out with it; nothing where the instrument sends by itself. */
function questionOf(driver: DriverFacts): Asked & { bytes: string } {
  const { start, poll } = wireOf(driver, resolveOptions(driver, {}))
  const sent = poll[0]?.bytes ?? ''
  return { id: driver.id, sent, bytes: sent && (start ?? '') + sent }
}

function open(path: string, baudRate: number): Promise<SerialPort> {
  return new Promise((done, fail) => {
    const port = new SerialPort({ path, baudRate, autoOpen: false })
    port.open((error) => (error ? fail(openProblem(path, error.message)) : done(port)))
  })
}
