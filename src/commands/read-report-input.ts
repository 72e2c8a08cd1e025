// A recording on disk into what its report is made from: judged, digested, with the earlier tests that lie beside it.
import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { analyse } from '../core/analyse.ts'
import { initialRun, type Run, step } from '../core/intake/run.ts'
import { judge } from '../core/judge.ts'
import type { RecordedEvent, StartEvent } from '../core/model/event.ts'
import { curveFrom } from '../core/view/curve-of.ts'
import type { Driver } from '../driver.ts'
import { ours } from '../heartbeat.ts'
import { type Glance, glanceAt } from '../recording/glance.ts'
import { createReader } from '../recording/read.ts'
import type { EarlierTest, ReportInput } from '../report/model/report-input.ts'
import { runSession } from '../session.ts'
import { replay } from '../source/replay.ts'
import { recordedText } from '../terminal/text/recorded-text.ts'
import { nextAfter } from '../terminal/text/verdict-lines.ts'
import { reasonOf } from '../terminal/text/verdict-reason.ts'
import * as words from '../terminal/text/words.ts'
import { readVersion } from '../version.ts'
import type { FindDecode } from './bind-drivers.ts'
import { changedDrivers } from './changed-drivers.ts'
import { groundsOf } from './describe-run.ts'
import { naming } from './fold-recording.ts'
import { unknownSetup } from './unknown-setup.ts'

/** Recordings that were glanced at before: those of one lot are the earlier tests of each other. */
export type Glances = Map<string, Promise<Glance | null>>

type Given = {
  drivers: ReadonlyMap<string, Driver>
  findDecode: FindDecode
  number: string | null
  glances?: Glances
}

/** Throws a Problem that names `path` where it is no recording, or where its first line is damaged. */
export async function readReportInput(
  path: string,
  { drivers, findDecode, number, glances = new Map() }: Given,
): Promise<ReportInput> {
  const { run, signed } = await naming(path, () => readSigned(path, findDecode))
  if (run.setup === null) throw unknownSetup(run, path)
  const { setup } = run
  const { start } = setup
  const analysis = ours(() => analyse(run, setup))
  const result = ours(() => judge(analysis))
  const grounds = groundsOf(run, setup, result)
  return {
    file: basename(path),
    sha256: await digestOfFile(path),
    signed,
    number,
    software: readVersion(),
    analysis,
    result,
    curve: curveFrom(analysis, result),
    said: {
      reason: reasonOf(result, start.part, grounds),
      next: nextAfter(result.verdict, start.simulated, grounds),
      thenAndNow: recordedText(result),
    },
    notes: changedDrivers(start, drivers),
    earlier: await earlierTests(path, start, glances),
    words,
  }
}

type State = { run: Run; signed: ReportInput['signed'] }

/** The run, and who signed its last seal. */
function readSigned(path: string, findDecode: FindDecode): Promise<State> {
  return runSession<State>({
    source: replay(path, createReader()),
    initial: { run: initialRun(findDecode), signed: null },
    step: ({ run, signed }, event) => ({
      run: step(run, event),
      signed: event.type === 'seal' ? signedBy(event) : signed,
    }),
  })
}

function signedBy({ key, sig }: Extract<RecordedEvent, { type: 'seal' }>): ReportInput['signed'] {
  return typeof key === 'string' && typeof sig === 'string' ? { key, signature: sig } : null
}

async function digestOfFile(path: string): Promise<string> {
  const hash = createHash('sha256')
  await pipeline(createReadStream(path), hash)
  return hash.digest('hex')
}

/** Tests of the same model and serial number that began before this one and lie in its folder, oldest first; null without a serial number. */
async function earlierTests(
  path: string,
  { id, at, part }: StartEvent,
  glances: Glances,
): Promise<EarlierTest[] | null> {
  if (!part.serial) return null
  const names = (await readdir(dirname(path))).filter((name) => name.endsWith('.run'))
  const found = new Map<string, EarlierTest>()
  for (const name of names) {
    const other = join(dirname(path), name)
    const glancing = glances.get(other) ?? glanceAt(other).catch(() => null)
    glances.set(other, glancing)
    const glance = await glancing
    if (glance === null) continue
    const { start, verdict } = glance
    const same = start.part.serial === part.serial && start.part.model === part.model
    // A copy of this recording is no other test.
    if (same && start.id !== id && start.at < at)
      found.set(start.id, { at: start.at, verdict, simulated: start.simulated })
  }
  return [...found.values()].sort((a, b) => (a.at < b.at ? -1 : 1))
}
