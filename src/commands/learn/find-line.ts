// A line that nothing is known of into the ways to read it: listened to at each usual setting, then asked.
import type { Driver, SerialSettings } from '../../driver.ts'
import { Problem } from '../../errors.ts'
import { type Candidate, findCandidates, leastFrames, readPieces } from '../../learn/candidates.ts'
import { type Piece, receivedText } from '../../learn/heard.ts'
import { asks, type Trial, trialsOf } from '../../learn/trials.ts'
import type { Line } from '../open-line.ts'

// The rates that bench instruments are found at, the usual ones first: common practice, no source.
const rates = [9600, 2400, 19_200, 115_200, 4800, 1200, 38_400, 57_600, 600, 300]
/** Where nothing comes at these, nothing comes unasked: at a wrong rate bytes come too. */
const ratesOfSilence = 3
const plain = { dataBits: 8, parity: 'none', stopBits: 1 } as const
const sevenEven = { dataBits: 7, parity: 'even', stopBits: 1 } as const
const withParity = (['even', 'odd'] as const).map((parity) => ({ ...plain, parity }))

// How long is listened, ms: two lines a second are slow, and a board that the port has just reset takes two seconds.
const firstMs = 3500
const talkingMs = 3000
const silentMs = 1200
const answerMs = 300
/** At slow rates an answer takes longer: so many characters, of ten bits. */
const answerCharacters = 24

/** What is asked first of a silent line: what differs from a driver's defaults in one of these alone. */
const scouted = ['command', 'slave', 'function']

/** What tells the person what goes on. */
export type Tell = (text: string) => void

/** The candidates at the first setting that some driver reads well. Throws a Problem where there is none. */
export async function findLine(line: Line, drivers: readonly Driver[], name: string, tell: Tell): Promise<Candidate[]> {
  const speakers = drivers.filter((driver) => !asks(driver))
  let heard = ''
  let held: string | null = null
  const listenAt = async (settings: SerialSettings, ms: number): Promise<Candidate[]> => {
    await line.set(settings)
    const find = (pieces: readonly Piece[]) => findCandidates(speakers, { settings, pieces })
    const enough = (pieces: readonly Piece[]) => find(pieces).candidates.some(({ frames }) => frames > 2 * leastFrames)
    const pieces = await line.listen(ms, enough)
    // Whole words, but too few of them: a slow instrument.
    if (isText(receivedText({ pieces })) && find(pieces).candidates.length === 0)
      pieces.push(...(await line.listen(talkingMs, (more) => enough([...pieces, ...more]))))
    const text = receivedText({ pieces })
    heard += text
    const found = find(pieces)
    held ??= found.held?.text ?? null
    tell(`${settingText(settings)}: ${listenedText(text, found.candidates)}`)
    return found.candidates
  }
  for (const [i, baudRate] of rates.entries()) {
    const found = await listenAt({ baudRate, ...plain }, i === 0 ? firstMs : heard === '' ? silentMs : talkingMs)
    if (found.length > 0) return found
    if (heard === '' && i + 1 >= ratesOfSilence) break
    if (held !== null)
      throw new Problem('line-held', `The instrument at ${name} sends, but not what it measures: ${held}.`)
  }
  if (heard !== '')
    for (const frame of withParity)
      for (const baudRate of rates) {
        const found = await listenAt({ baudRate, ...frame }, talkingMs)
        if (found.length > 0) return found
      }
  return askLine(line, drivers.filter(asks), name, heard, tell)
}

/** Printable, but for a byte or two at the beginning. */
const isText = (text: string) => text.length > 0 && text.replace(/[ -~\t\r\n]/g, '').length <= text.length / 20

function listenedText(text: string, candidates: readonly Candidate[]): string {
  if (text === '') return 'nothing comes'
  return candidates.length > 0
    ? `${text.length} bytes, and they can be read`
    : `${text.length} bytes that no driver reads`
}

/** 8N1 and the like, as instruments state it. */
export function settingText({ baudRate, dataBits, parity, stopBits }: SerialSettings): string {
  return `${baudRate} baud ${dataBits}${parity.slice(0, 1).toUpperCase()}${stopBits}`
}

async function askLine(
  line: Line,
  askers: readonly Driver[],
  name: string,
  heard: string,
  tell: Tell,
): Promise<Candidate[]> {
  const settings = [plain, ...withParity, sevenEven].flatMap((frame) =>
    rates.slice(0, frame === plain ? 8 : 4).map((baudRate): SerialSettings => ({ baudRate, ...frame })),
  )
  let answered = ''
  for (const setting of settings) {
    await line.set(setting)
    tell(`${settingText(setting)}: asking`)
    const ms = answerMs + (10_000 * answerCharacters) / setting.baudRate
    for (const driver of askers)
      for (const scout of scoutsOf(driver)) {
        const pieces = await line.ask(scout.query, ms)
        const trial = answeredAs(scout, pieces)
        if (trial === undefined) continue
        answered += receivedText({ pieces })
        tell(`${settingText(setting)}: it answers ${driver.id}`)
        const found = await askMore(line, trial, setting, ms)
        if (found.length > 0) return found
      }
  }
  if (heard + answered !== '')
    throw new Problem(
      'line-unknown',
      `At ${name} bytes come, but no driver reads them at any setting, such as ${JSON.stringify((answered || heard).slice(0, 40))}.`,
    )
  throw new Problem(
    'port-silent',
    `At ${name} nothing was heard at any setting, and no question was answered.`,
    silentNext,
  )
}

const silentNext =
  'Check that the instrument is on, that its serial output is switched on (often a key or a menu) and the cable, then try again.'

/** A query to ask first, and what may have been meant by it: whatever ends it. CR LF ends one for most instruments. */
type Scout = { query: string; trials: Trial[] }

/** What to ask first as `driver`: each query but once. */
export function scoutsOf(driver: Driver): Scout[] {
  const scouts = new Map<string, Scout>()
  for (const trial of trialsOf(driver, 'manometer', '')) {
    const { query, options } = trial
    const other = Object.keys(options).filter((name) => options[name] !== driver.options[name]?.default)
    const beside = other.filter((name) => name !== 'terminator' && name !== 'unit')
    if (beside.length > 1 || beside.some((name) => !scouted.includes(name)) || query === null) continue
    const bare = query.replace(/[\r\n]+$/, '')
    const scout = scouts.get(bare) ?? { query, trials: [] }
    scout.trials.push(trial)
    if (query.endsWith('\r\n')) scout.query = query
    scouts.set(bare, scout)
  }
  return [...scouts.values()]
}

/** As which of its trials a query was answered, with a reading or by an instrument that refuses; undefined where it was not. */
function answeredAs({ query, trials }: Scout, pieces: readonly Piece[]): Trial | undefined {
  return trials.find((trial) => {
    const meant = pieces.map((piece) =>
      piece.text === query && piece.way === 'sent' ? { ...piece, text: trial.query! } : piece,
    )
    const { readings, faults } = readPieces(trial, meant)
    return readings.length > 0 || faults.some(({ code }) => refusals.includes(code))
  })
}

const refusals: readonly string[] = ['device-error', 'wrong-quantity', 'no-unit']

/** Asks on where `trial` was answered: the same again, or each place that a value may be at. */
async function askMore(line: Line, trial: Trial, settings: SerialSettings, ms: number): Promise<Candidate[]> {
  const { driver } = trial
  const askAll = async (queries: Iterable<string>, times: number) => {
    const pieces: Piece[] = []
    for (const query of queries) for (let i = 0; i < times; i++) pieces.push(...(await line.ask(query, ms)))
    return findCandidates([driver], { settings, pieces }, times).candidates
  }
  const hasPlaces = 'register' in driver.options
  const found = hasPlaces ? [] : await askAll([trial.query!], leastFrames)
  if (found.length > 0) return found
  const near = [...trialsOf(driver, 'manometer', ''), ...trialsOf(driver, 'meter', '')]
  const queries = near.filter(({ options }) => options['slave'] === trial.options['slave']).map(({ query }) => query!)
  // A frame with its checksum is enough; a line is asked for again.
  return askAll(new Set(queries), hasPlaces ? 1 : leastFrames)
}
