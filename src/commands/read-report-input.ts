// A recording on disk into what its report is made from: judged, digested, with the earlier tests that lie beside it.
import { readdir } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { analyse } from '../core/analyse.ts'
import { judge } from '../core/judge.ts'
import type { StartEvent } from '../core/model/event.ts'
import { curveFrom } from '../core/view/curve-of.ts'
import type { Driver } from '../driver.ts'
import { ours } from '../heartbeat.ts'
import { type Glance, glanceAt } from '../recording/glance.ts'
import type { EarlierTest, ReportInput } from '../report/model/report-input.ts'
import { knownKeys } from '../signing/bench-key.ts'
import { recordedText } from '../terminal/text/recorded-text.ts'
import { nextAfter } from '../terminal/text/verdict-lines.ts'
import { reasonOf } from '../terminal/text/verdict-reason.ts'
import * as words from '../terminal/text/words.ts'
import { userFolders } from '../user-folders.ts'
import { readVersion } from '../version.ts'
import type { FindDecode } from './bind-drivers.ts'
import { changedDrivers } from './changed-drivers.ts'
import { groundsOf } from './describe-run.ts'
import { foldRecording } from './fold-recording.ts'
import { numberReport } from './number-report.ts'
import { readProof } from './read-signature.ts'
import { unknownSetup } from './unknown-setup.ts'

/** Recordings that were glanced at before: those of one lot are the earlier tests of each other. */
export type Glances = Map<string, Promise<Glance | null>>

type Given = {
  drivers: ReadonlyMap<string, Driver>
  findDecode: FindDecode
  /** Given by hand; null: the next one of this bench. */
  number: string | null
  glances?: Glances
}

/** Throws a Problem that names `path` where it is no recording, or where its first line is damaged. */
export async function readReportInput(
  path: string,
  { drivers, findDecode, number, glances = new Map() }: Given,
): Promise<ReportInput> {
  const run = await foldRecording(path, findDecode)
  if (run.setup === null) throw unknownSetup(run, path)
  const { setup } = run
  const { start } = setup
  const analysis = ours(() => analyse(run, setup))
  const result = ours(() => judge(analysis))
  const grounds = groundsOf(run, setup, result)
  const proof = await readProof(path, { given: null, known: knownKeys(userFolders().signing) })
  const thenAndNow = recordedText(result)
  const numbered =
    number === null ? numberReport(result, proof.digest, start.simulated, thenAndNow) : { number, amends: null }
  return {
    file: basename(path),
    sha256: proof.digest,
    signed: proof.signed && {
      key: proof.signed.key,
      signature: proof.signed.sig,
      told: proof.told?.text ?? 'not checked: the seal does not hold',
    },
    ...numbered,
    software: readVersion(),
    analysis,
    result,
    curve: curveFrom(analysis, result),
    said: {
      reason: reasonOf(result, start.part, grounds),
      next: nextAfter(result.verdict, start.simulated, grounds),
      thenAndNow,
    },
    notes: changedDrivers(start, drivers),
    earlier: await earlierTests(path, start, glances),
    words,
  }
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
