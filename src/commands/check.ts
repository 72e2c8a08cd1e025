// `check`: whether recordings are whole: torn, damaged lines, seal, signature, chain; and whether their verdict would be another today.

import { open } from 'node:fs/promises'
import { initialRun, type Run, step } from '../core/intake/run.ts'
import type { RecordedEvent } from '../core/model/event.ts'
import { countText, rangeText } from '../core/text/lines-text.ts'
import { asProblem, Problem } from '../errors.ts'
import { ours } from '../heartbeat.ts'
import { createReader, type Digests } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { knownKeys } from '../signing/bench-key.ts'
import { replay } from '../source/replay.ts'
import { recordedText } from '../terminal/text/recorded-text.ts'
import { chainedOf, closeChain } from './chain-text.ts'
import { copiesText } from './copies-text.ts'
import { errorStatus } from './exit-status.ts'
import { foldRecording, naming } from './fold-recording.ts'
import { print } from './print.ts'
import { readTextFile } from './read-text-file.ts'
import { type Keys, publicKeyIn, signatureOf } from './signature-text.ts'
import { type FileTold, type TellFile, tellFiles } from './tell-files.ts'
import { changedLineEnds } from './unknown-setup.ts'

const damaged = 2
/** Damaged places named one by one; the lines of the rest are counted. */
const maxNamed = 5

export type CheckOptions = { key?: string }

/**
 * Prints one line a file, then what of a bench's chain is there. Exit status: 0 all whole, 2 one is not, or is not signed as
 * it says, or is missing in between; 65 one cannot be read.
 */
export async function checkFiles(files: readonly string[], options: CheckOptions): Promise<number> {
  const tellFile = await createCheck(options)
  return tellFiles(files, { job: { name: 'check', options }, tellFile, print, close: closeChain })
}

/** Gives the line of one file, or why it cannot be read. Throws a Problem where the key that is given is none. */
export async function createCheck({ key }: CheckOptions): Promise<TellFile> {
  const { userFolders } = await import('../user-folders.ts')
  const keys: Keys = {
    given: key === undefined ? null : publicKeyIn(await readTextFile('key', key), key),
    known: knownKeys(userFolders().signing),
  }
  return async (file) => ((await isZip(file)) ? bundleTold(file, keys) : checkFile(file, keys))
}

const zipBegin = Buffer.from('PK\x03\x04', 'latin1')

/** Whether a file begins as a .zip does; one that cannot be read does not. */
async function isZip(path: string): Promise<boolean> {
  const file = await open(path, 'r').catch(() => null)
  if (file === null) return false
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(zipBegin.length), 0, zipBegin.length, 0)
    return bytesRead === zipBegin.length && buffer.equals(zipBegin)
  } catch {
    return false
  } finally {
    await file.close()
  }
}

async function bundleTold(file: string, keys: Keys): Promise<FileTold> {
  try {
    return await (await import('./check-bundle.ts')).checkBundle(file, keys, checkFile)
  } catch (error) {
    const { message, next } = asProblem(error)
    return { status: errorStatus(error), lines: [], wrong: `makebreak: ${message}\n${next}\n` }
  }
}

/** With no keys at hand it is told who signed, and not whether the signature fits. */
export async function checkFile(file: string, keys: Keys = { given: null, known: [] }): Promise<FileTold> {
  try {
    const { run, faults, digests } = await naming(file, () => faultsOf(file))
    const signature = run.damage.seal === 'intact' ? signatureOf(run.setup?.start ?? null, digests, keys) : null
    const told = [
      ...(faults.length > 0 ? faults : ['whole, sealed']),
      ...(signature ? [signature.text] : []),
      ...(await today(file, run)),
      ...(await copiesText(file)),
    ]
    const wrong = faults.length > 0 || signature?.holds === false
    const chained = chainedOf(file, run, digests)
    return {
      ...{ status: wrong ? damaged : 0, lines: [`${file}: ${told.join('; ')}`], wrong: null },
      ...(chained && { chained }),
    }
  } catch (error) {
    const { message, next } = asProblem(error)
    return { status: errorStatus(error), lines: [], wrong: `makebreak: ${message}\n${next}\n` }
  }
}

/** Damaged lines that follow each other and are damaged for the same reason. */
type Place = { from: number; to: number; offset: number; why: string }
type State = { run: Run; places: Place[]; tornBytes: number }

/** Nothing is decoded here: a file without its driver can be checked too. */
async function faultsOf(file: string): Promise<{ run: Run; faults: string[]; digests: Digests }> {
  const reader = createReader()
  const deaf = () => () => ({ readings: [], faults: [], memory: null })
  const { run, places, tornBytes } = await runSession<State>({
    source: replay(file, reader),
    initial: { run: initialRun(deaf), places: [], tornBytes: 0 },
    step: (state, event) => ({
      run: step(state.run, event),
      places: event.type === 'corrupt' ? withLine(state.places, event) : state.places,
      tornBytes: event.type === 'torn' ? event.bytes : state.tornBytes,
    }),
  })
  const digests = reader.digests()
  const changed = changedLineEnds(run)
  const torn = tornBytes > 0 ? [`torn: ${tornBytes} bytes after the last whole line`] : []
  // Whatever else shows, such as a seal that is not found, comes of that.
  if (changed !== null)
    return { run, faults: [`${changed}: copy the recording as binary, not as text`, ...torn], digests }
  const named = places.map(placeText)
  const more = places.reduce((rest, { from, to }) => rest - (to - from + 1), run.damage.corrupt.count)
  if (more > 0) named.push(`and ${countText(more)} more damaged ${more === 1 ? 'line' : 'lines'}`)
  named.push(...torn)
  if (run.damage.seal === 'broken') named.push('seal broken: it does not match the bytes before it')
  if (run.damage.seal === 'missing') named.push('no seal at its end')
  return { run, faults: named, digests }
}

/** `places` with one damaged line more, the first few of them. */
function withLine(places: Place[], { line, offset, why }: Extract<RecordedEvent, { type: 'corrupt' }>): Place[] {
  const last = places.at(-1)
  if (last?.to === line - 1 && last.why === why) return places.with(-1, { ...last, to: line })
  return places.length < maxNamed ? [...places, { from: line, to: line, offset, why }] : places
}

function placeText({ from, to, offset, why }: Place): string {
  const where = from === to ? `byte ${offset}` : `${countText(to - from + 1)} lines from byte ${offset}`
  return `${rangeText({ from, to })} (${where}) damaged: ${why}`
}

/**
 * What is otherwise today: what is said of the test, and the drivers. Of a verdict nothing is told where a driver is not
 * there or the first line is damaged.
 */
async function today(file: string, { recorded, setup }: Run): Promise<string[]> {
  if (recorded === null && setup?.start.drivers === undefined) return []
  const [{ resultOf }, { bindDrivers }, { changedDrivers }, { loadDrivers }, { userFolders }] = await Promise.all([
    import('../core/judge.ts'),
    import('./bind-drivers.ts'),
    import('./changed-drivers.ts'),
    import('../load-drivers.ts'),
    import('../user-folders.ts'),
  ])
  const told: string[] = []
  try {
    const drivers = await loadDrivers(userFolders().drivers)
    if (setup !== null) told.push(...changedDrivers(setup.start, drivers).map((note) => note.replace(/\.$/, '')))
    const run = recorded === null ? null : await foldRecording(file, bindDrivers(drivers))
    const result = run && ours(() => resultOf(run))
    if (result !== null) told.unshift(recordedText(result))
  } catch (error) {
    if (!(error instanceof Problem)) throw error
  }
  return told.filter((text) => text !== '')
}
