// Opens one port for a few seconds and keeps what it sends; a port that stays silent may be asked.
import { type DriverFacts, resolveOptions, wireOf } from '../driver.ts'
import { receivedText } from '../learn/heard.ts'
import { openLine } from './open-line.ts'

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
  const settings = { baudRate, dataBits: 8, parity: 'none', stopBits: 1 } as const
  const line = await openLine(path, settings, (seconds * 1000) / 3)
  try {
    const questions = askers.map(questionOf).filter(({ bytes }) => bytes !== '')
    const listenMs = seconds * (questions.length > 0 ? 500 : 1000)
    const text = receivedText({ pieces: await line.listen(listenMs) })
    if (text !== '') return { text, asked: null }
    for (const { id, bytes, sent } of questions) {
      const answer = receivedText({ pieces: await line.ask(bytes, listenMs / questions.length) })
      if (answer !== '') return { text: answer, asked: { id, sent } }
    }
    return { text, asked: null }
  } finally {
    await line.close()
  }
}

/** The first of a driver's queries, and all that goes out with it; nothing where the instrument sends by itself. */
function questionOf(driver: DriverFacts): Asked & { bytes: string } {
  const { start, poll } = wireOf(driver, resolveOptions(driver, {}))
  const sent = poll[0]?.bytes ?? ''
  return { id: driver.id, sent, bytes: sent && (start ?? '') + sent }
}
