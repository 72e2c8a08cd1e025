// What was heard at a port into the drivers and options that read it, the likeliest first.
import type { Fault, Reading } from '../core/model/reading.ts'
import { bindDecode, type Driver, type Role, type SerialSettings } from '../driver.ts'
import { type Heard, type Piece, receivedText, withSevenBits } from './heard.ts'
import { asks, isUnitOption, type Open, type Trial, trialsOf, trialWith } from './trials.ts'

/** A driver with options that reads a line under a setting. */
export type Candidate = Trial & { settings: SerialSettings; frames: number; faults: number; share: number }

export type TimedReading = Reading & { atMs: number }

/** `held`: what forbids the use of every frame, such as HOLD, where a driver reads nothing for that reason alone. */
export type Found = { candidates: Candidate[]; held: Fault | null }

/** So many good frames are wanted: at a wrong baud a few may look right. Shop rule. */
export const leastFrames = 3
/** A tenth of the frames may be bad, such as one that noise has hit. Shop rule. */
const mostFaults = 0.1
/** Of several displays in turn one is a share of the bytes; what reads less reads by chance. Shop rule. */
const leastShare = 0.15

const roles: readonly Role[] = ['bridge', 'manometer', 'meter']

/** What `drivers` read in what was heard, `least` good frames at least. A line of seven bits is found in what eight gave. */
export function findCandidates(drivers: readonly Driver[], heard: Heard, least = leastFrames): Found {
  const seven = withSevenBits(heard)
  const found = [heard, ...(seven === null ? [] : [seven])].map((each) => candidatesOf(drivers, each, least))
  return {
    candidates: found.flatMap(({ candidates }) => candidates),
    held: found.map(({ held }) => held).find((held) => held !== null) ?? null,
  }
}

function candidatesOf(drivers: readonly Driver[], { settings, pieces }: Heard, least: number): Found {
  const sample = receivedText({ pieces })
  const asked = new Set(pieces.filter(({ way }) => way === 'sent').map(({ text }) => text))
  const candidates: Candidate[] = []
  let held: Fault | null = null
  for (const role of roles)
    for (const driver of drivers.filter((each) => asks(each) === asked.size > 0))
      for (const trial of trialsOf(driver, role, sample)) {
        if (trial.query !== null && !asked.has(trial.query)) continue
        const { readings, faults, bytes } = readPieces(trial, pieces)
        const told = framesIn(readings, role)
        if (told.length === 0 && faults.length >= least && faults.every(isHeld)) held ??= faults[0]!
        if (told.length < least || faults.length > mostFaults * (told.length + faults.length)) continue
        const share = told.reduce((sum, { frameBytes }) => sum + frameBytes, 0) / Math.max(1, bytes)
        if (share >= leastShare)
          candidates.push({
            ...trial,
            open: stillOpen(trial, pieces),
            settings,
            frames: told.length,
            faults: faults.length,
            share,
          })
      }
  return { candidates: candidates.toSorted(byRank), held }
}

const isHeld = ({ code }: Fault) => code === 'held' || code === 'device-error'

/** One reading a frame, of what the role is for; a board has to give both. */
function framesIn(readings: readonly TimedReading[], role: Role): TimedReading[] {
  const pressures = readings.filter(({ quantity }) => quantity === 'pressure')
  if (role === 'manometer') return pressures
  const contacts = readings.filter(({ quantity }) => quantity !== 'pressure')
  return role === 'meter' || contacts.length === pressures.length ? contacts : []
}

/** What `trial` makes of pieces: of a driver that asks only the answers to its own query count. */
export function readPieces(
  { driver, options, role, query, end }: Trial,
  pieces: readonly Piece[],
): { readings: TimedReading[]; faults: Fault[]; bytes: number } {
  const decode = bindDecode(driver, options, role)
  // An answer begins whole; what comes unasked may begin within a line.
  let memory = query === null || driver.hearsSent ? null : decode(null, end, 'received').memory
  let mine = query === null
  let bytes = 0
  const readings: TimedReading[] = []
  const faults: Fault[] = []
  for (const { atMs, way, text } of pieces) {
    if (way === 'sent') mine = text === query
    if (!mine) continue
    if (way === 'received') bytes += text.length
    const decoded = decode(memory, text, way)
    memory = decoded.memory
    readings.push(...decoded.readings.map((reading) => ({ ...reading, atMs })))
    faults.push(...decoded.faults)
  }
  return { readings, faults, bytes }
}

/** Each reading with the bytes that it was read from. */
export function framesOf(trial: Trial, pieces: readonly Piece[]): { raw: string; reading: TimedReading }[] {
  // Byte by byte, each with its place for its time: a reading comes with the last byte of its frame.
  const bytes = pieces
    .flatMap((piece) => (piece.way === 'sent' ? [piece] : Array.from(piece.text, (text) => ({ ...piece, text }))))
    .map((piece, i) => ({ ...piece, atMs: i }))
  return readPieces(trial, bytes).readings.map((reading) => ({
    raw: bytes
      .slice(Math.max(0, reading.atMs + 1 - reading.frameBytes), reading.atMs + 1)
      .map(({ text }) => text)
      .join(''),
    reading,
  }))
}

/** The unit is open only where another one in the options would change what is read. */
function stillOpen(trial: Trial, pieces: readonly Piece[]): Open {
  const { unit } = trial.open
  const other = unit?.names[1]
  if (unit === null || other === undefined) return trial.open
  const read = (options: Trial['options']) => readPieces({ ...trial, options }, pieces).readings
  const instead = read({ ...trial.options, [unit.option]: unit.text.replace('#', other) })
  // Of ohms the name does not change with the unit: noughts and an open line do not tell.
  const telling = read(trial.options).map(
    ({ value, quantity }) => quantity === 'pressure' || (value !== 0 && Number.isFinite(value)),
  )
  const same =
    telling.includes(true) &&
    read(trial.options).every(({ value, unit: name }, i) => {
      const others = instead[i]
      return others?.unit === name && Object.is(others.value, value)
    })
  return same ? { ...trial.open, unit: null } : trial.open
}

/** `candidate` with each option as it usually is that changes nothing of what is read of `pieces`. */
export function simplest<C extends Trial>(candidate: C, pieces: readonly Piece[]): C {
  const valuesOf = (trial: Trial) => {
    const { readings, faults } = readPieces(trial, pieces)
    return [faults.length, ...readings.map(({ quantity, value, unit }) => `${quantity} ${value} ${unit}`)].join()
  }
  const wanted = valuesOf(candidate)
  let kept = candidate
  for (const name of Object.keys(setOptions(candidate))) {
    const usual = trialWith(kept, { ...kept.options, [name]: kept.driver.options[name]!.default })
    if (valuesOf(usual) === wanted) kept = { ...kept, ...usual }
  }
  return kept
}

/** Whole lines before parts of them, units in the line before units from outside, few options before many. */
function byRank(a: Candidate, b: Candidate): number {
  const tenths = ({ share }: Candidate) => Math.round(share * 10)
  const bare = ({ open }: Candidate) => Number(open.unit !== null) + Number(open.scale !== null)
  return tenths(b) - tenths(a) || bare(a) - bare(b) || set(a) - set(b)
}

/** How many options are not as they usually are; a unit does not count, for it may only be put in until it is known. */
const set = (candidate: Candidate) =>
  Object.keys(setOptions(candidate)).filter((name) => !isUnitOption(candidate.driver.options[name])).length

/** The options that differ from the driver's defaults: what a rig file has to state. */
export function setOptions({ driver, options }: Pick<Trial, 'driver' | 'options'>): Trial['options'] {
  return Object.fromEntries(Object.entries(options).filter(([name, value]) => value !== driver.options[name]?.default))
}
