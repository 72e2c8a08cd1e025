// A driver, its source and its transcripts into the cases of the contract, each of which it meets or not.
import { isDeepStrictEqual } from 'node:util'
import { errorText } from '../core/text/error-text.ts'
import { checkDriver, type Driver, type Role, resolveOptions, type Wire, wireOf } from '../driver.ts'
import { type Chunk, chunksOf, cutRandomly, cutSingly, everyCut, received } from './chunks.ts'
import { createDice, type Dice, noise, noiseKinds } from './noise.ts'
import { dataOf, decodeOnce, runDriver, sizeOf } from './run-driver.ts'
import { sourceFault } from './source-fault.ts'
import type { Transcript } from './transcript.ts'
import { transcriptFault } from './transcript-fault.ts'

/** What a driver does against the contract, as a clause with value and limit, and the next step. */
export type CaseFault = { what: string; next: string }

/** `fault` gives null where the driver meets the case. */
export type ContractCase = { name: string; fault: () => CaseFault | null }

export type Subject = {
  driver: Driver
  /** Its file's name without ending. */
  name: string
  /** Ids that other drivers have. */
  taken: readonly string[]
  source: string
  /** Beginnings of what it may import; none for a self-contained file. */
  mayImport: readonly string[]
  transcripts: readonly Transcript[]
}

const roles: readonly Role[] = ['manometer', 'meter', 'bridge']
/** Of a fault's text: safe to show, and something. */
const safe = /^[ -~]{1,80}$/
/** Most bytes that a memory may take: two frames, each byte escaped in six characters, and a few fields. Shop rule. */
const memoryLimit = (maxFrameBytes: number) => 12 * maxFrameBytes + 400

/** The shape, which the cases of `conductCases` rest on. */
export function shapeCase({ driver, name, taken }: Pick<Subject, 'driver' | 'name' | 'taken'>): ContractCase {
  return contractCase('has its file name as id and nothing wrong in its shape', {
    fault: () => {
      const wrong = checkDriver(driver)
      if (wrong.length > 0) return wrong.join('; ')
      if (driver.id !== name) return `the id is "${driver.id}"; it must be "${name}", the name of its file`
      return taken.includes(name) ? `the id "${name}" is one of those that are taken: ${taken.join(', ')}` : null
    },
    next: 'Correct what is named; the type Driver in src/driver.ts is the whole contract.',
  })
}

/** What it does, where its shape is right. The cases that need a transcript are among them only where there is one. */
export function conductCases(subject: Subject): ContractCase[] {
  const { driver, source, mayImport, transcripts } = subject
  return [
    contractCase('reads no clock, sets no timer, draws no number at random and imports only what it may', {
      fault: () => sourceFault(source, mayImport),
      next: 'Take it out: decode knows its arguments and nothing else.',
    }),
    contractCase('never throws on noise, gives safe faults and keeps a bounded memory', {
      fault: () => noiseFault(driver),
      next: 'Give a fault for what cannot be read, and drop bytes beyond maxFrameBytes.',
    }),
    contractCase('gives the same for the same memory and bytes, and leaves that memory as it was', {
      fault: () => purityFault(driver),
      next: 'Keep all that decode remembers in the memory it gives back, as a new object.',
    }),
    contractCase('gives the same however noise is cut', {
      fault: () => noiseCutFault(driver),
      next: 'Keep the bytes of an unfinished frame in the memory until its end has come.',
    }),
    contractCase('says that a megabyte without an end is too long, once, and keeps a bounded memory', {
      fault: () => endlessFault(driver),
      next: 'Drop a frame longer than maxFrameBytes and give the fault "overlong" for it, once.',
    }),
    ...(transcripts.length === 0 ? [] : transcriptCases(subject)),
  ]
}

/** What the cases of transcripts compare, for where there is none. */
export const withoutTranscript = 'No transcript beside it: what it decodes was not compared.'

function transcriptCases({ driver, transcripts }: Subject): ContractCase[] {
  return [
    contractCase('has a transcript with at least one reading of each quantity it offers', {
      fault: () => {
        const read = new Set(transcripts.flatMap(({ readings }) => readings.map(({ quantity }) => quantity)))
        const offered = new Set(driver.channels.map(({ quantity }) => quantity))
        const list = (names: ReadonlySet<string>) => [...names].sort().join(', ') || 'none'
        return list(read) === list(offered) ? null : `its transcripts read ${list(read)}; it offers ${list(offered)}`
      },
      next: 'Add a transcript of the quantity that is missing, or take the channel out.',
    }),
    ...transcripts.flatMap((transcript) => [
      contractCase(`reads the transcript: ${transcript.name}`, {
        fault: () => transcriptFault(runDriver(driver, transcript, chunksOf(transcript.bytes)), transcript, safe),
        next: 'Correct decode, or the transcript where the bytes mean something else.',
      }),
      contractCase(`gives the same however the bytes are cut: ${transcript.name}`, {
        fault: () => cutFault(driver, transcript, chunksOf(transcript.bytes), everyCut),
        next: 'Keep the bytes of an unfinished frame in the memory until its end has come.',
      }),
      contractCase(`gives the same however the bytes are cut when some are damaged: ${transcript.name}`, {
        fault: () => damageFault(driver, transcript),
        next: 'Decide on each byte by those before it alone, not by where a chunk ends.',
      }),
    ]),
    contractCase('gives the time of the instrument with each reading, or with none', {
      fault: () => deviceTimeFault(driver, transcripts),
      next: 'Take deviceUs from each line that has a reading, or leave it out everywhere.',
    }),
    contractCase('leaves time on the wire for a query and its longest reply', {
      fault: () => pollFault(driver, transcripts),
      next: 'Ask less often, or state a higher baud rate.',
    }),
  ]
}

/** A case; what is thrown in it is its fault, for it is nearly always the driver that throws. */
function contractCase(name: string, { fault, next }: { fault: () => string | null; next: string }): ContractCase {
  return {
    name,
    fault: () => {
      try {
        const what = fault()
        return what === null ? null : { what, next }
      } catch (error) {
        return { what: errorText(error, 240), next: 'Catch it, and give what the type Decoded asks for.' }
      }
    },
  }
}

const usualWire = (driver: Driver): Wire => wireOf(driver, resolveOptions(driver, {}))

/** Noise as a driver meets it: after the command that it was sent for, where it hears that. */
function chunksOfNoise(driver: Driver, pieces: readonly string[]): Chunk[] {
  const { poll } = usualWire(driver)
  const sent = poll.map(({ bytes }): Chunk => ({ way: 'sent', bytes }))
  if (driver.hearsSent !== true || sent.length === 0) return pieces.map(received)
  return pieces.flatMap((piece, index) => [sent[index % sent.length]!, received(piece)])
}

function memoryFault(memory: unknown, maxFrameBytes: number, on: string): string | null {
  const [size, limit] = [sizeOf(memory), memoryLimit(maxFrameBytes)]
  return size <= limit ? null : `its memory has ${size} bytes ${on}; it may have ${limit} (12 maxFrameBytes + 400)`
}

function noiseFault(driver: Driver): string | null {
  const { maxFrameBytes } = usualWire(driver)
  const dice = createDice(20_240_501)
  const enough = 2 * memoryLimit(maxFrameBytes)
  for (const role of roles)
    for (let trial = 0; trial < 300; trial++) {
      const pieces = noise(dice, trial)
      // Of each kind of noise once so much that a memory which keeps all of it is beyond its limit.
      if (trial < noiseKinds)
        for (let bytes = 0; bytes < enough; ) {
          const more = noise(dice, trial)
          pieces.push(...more)
          bytes += more.join('').length
        }
      const { faults, readings, memory } = runDriver(driver, { role }, chunksOfNoise(driver, pieces))
      for (const { text } of faults)
        if (!safe.test(text)) return `a fault has the text ${JSON.stringify(text)}; it must be 1 to 80 printable ASCII`
      for (const { frameBytes } of readings)
        if (frameBytes > maxFrameBytes)
          return `a reading has ${frameBytes} frameBytes; maxFrameBytes is ${maxFrameBytes}`
      const wrong = memoryFault(memory, maxFrameBytes, 'after noise')
      if (wrong !== null) return wrong
    }
  return null
}

function purityFault(driver: Driver): string | null {
  const options = resolveOptions(driver, {})
  const dice = createDice(20_250_607)
  for (const role of roles)
    for (let trial = 0; trial < 40; trial++) {
      let memory: unknown = null
      for (const { way, bytes } of chunksOfNoise(driver, noise(dice, trial))) {
        const before = dataOf(memory)
        const first = decodeOnce(driver, memory, bytes, { options, role, way })
        if (!dataOf(memory).equals(before)) return `decode changed the memory it was given, as ${role}`
        const again = decodeOnce(driver, memory, bytes, { options, role, way })
        if (!isDeepStrictEqual(again, first)) return `two calls with the same arguments differ, as ${role}`
        memory = first.memory
      }
    }
  return null
}

function noiseCutFault(driver: Driver): string | null {
  const dice = createDice(20_251_130)
  for (const role of roles)
    for (let trial = 0; trial < 40; trial++) {
      const whole = chunksOfNoise(driver, [noise(dice, trial).slice(0, 5).join('')])
      const wrong = cutFault(driver, { role }, whole, fewCuts(dice))
      if (wrong !== null) return `${wrong}, as ${role}`
    }
  return null
}

const fewCuts = (dice: Dice) => (chunks: readonly Chunk[]) => [
  cutSingly(chunks),
  cutRandomly(chunks, dice),
  cutRandomly(chunks, dice),
]

/** Noise hardly ever looks like a frame; a transcript with a byte changed, lost or added does. */
function damageFault(driver: Driver, transcript: Transcript): string | null {
  const dice = createDice(20_261_127)
  for (let trial = 0; trial < 60; trial++) {
    const damaged = chunksOf(transcript.bytes).map(({ way, bytes }): Chunk => {
      const at = dice(bytes.length + 1)
      const instead = ['', String.fromCharCode(dice(256)), bytes.slice(at, at + 2) + bytes.slice(at, at + 1)][dice(3)]
      return { way, bytes: way === 'sent' ? bytes : bytes.slice(0, at) + instead + bytes.slice(at + 1) }
    })
    const wrong = cutFault(driver, transcript, damaged, fewCuts(dice))
    if (wrong !== null) return wrong
  }
  return null
}

function cutFault(
  driver: Driver,
  context: Pick<Transcript, 'role' | 'options'>,
  chunks: readonly Chunk[],
  cutsOf: (chunks: readonly Chunk[]) => Iterable<readonly Chunk[]>,
): string | null {
  const whole = runDriver(driver, context, chunks)
  const bytes = chunks.map((chunk) => chunk.bytes).join('')
  for (const pieces of cutsOf(chunks)) {
    const cut = runDriver(driver, context, pieces)
    if (isDeepStrictEqual(cut, whole)) continue
    const told = ({ readings, faults }: typeof cut) => `${readings.length} readings and ${faults.length} faults`
    const where = pieces.length === 2 ? `cut after byte ${pieces[0]?.bytes.length}` : `cut into ${pieces.length} pieces`
    const what =
      told(cut) === told(whole) ? 'other values or another memory than whole' : `${told(cut)}; whole ${told(whole)}`
    return `${bytes.length} bytes ${where} give ${what}`
  }
  return null
}

/** A driver of pieces may have no end to wait for: of it only the memory is looked at. */
function endlessFault(driver: Driver): string | null {
  const { framing, maxFrameBytes } = usualWire(driver)
  for (const byte of ['0', '-', 'i', '\x00', '\xff', '\x1b', ' ', '"']) {
    const on = `after a megabyte of ${JSON.stringify(byte)}`
    const { readings, faults, memory } = runDriver(driver, { role: 'manometer' }, [
      received(byte.repeat(1_000_000)),
      received(byte),
    ])
    const codes = faults.map(({ code }) => code)
    if (framing.kind === 'lines' && (readings.length > 0 || codes.join() !== 'overlong'))
      return `${readings.length} readings and the faults ${codes.slice(0, 3).join(', ') || 'none'} came ${on}; it must be "overlong" alone`
    const wrong = memoryFault(memory, maxFrameBytes, on)
    if (wrong !== null) return wrong
  }
  return null
}

function deviceTimeFault(driver: Driver, transcripts: readonly Transcript[]): string | null {
  const readings = transcripts.flatMap(
    (transcript) => runDriver(driver, transcript, chunksOf(transcript.bytes)).readings,
  )
  const dated = readings.filter(({ deviceUs }) => deviceUs !== undefined).length
  return dated === 0 || dated === readings.length ? null : `${dated} of ${readings.length} readings have deviceUs`
}

function pollFault(driver: Driver, transcripts: readonly Transcript[]): string | null {
  const { poll } = usualWire(driver)
  const { dataBits, parity, stopBits, baudRate } = driver.serial
  const bitsPerByte = 1 + dataBits + (parity === 'none' ? 0 : 1) + stopBits
  const longest = Math.max(0, ...transcripts.flatMap(({ readings }) => readings.map(({ frameBytes }) => frameBytes)))
  for (const [index, query] of poll.entries()) {
    const wireMs = ((query.bytes.length + longest) * bitsPerByte * 1000) / baudRate
    for (const name of ['periodMs', 'replyMs'] as const)
      if (query[name] < wireMs)
        return `${name} of query ${index + 1} is ${query[name]} ms; it and its reply take ${Math.ceil(wireMs)} ms at ${baudRate} baud`
  }
  return null
}
