// A recording that was read into what its report is made from: judged, numbered, with the earlier tests of its part.
import { basename } from 'node:path'
import { analyse } from '../core/analyse.ts'
import { judge } from '../core/judge.ts'
import { curveFrom } from '../core/view/curve-of.ts'
import type { Driver } from '../driver.ts'
import { ours } from '../heartbeat.ts'
import type { ReportInput, ShopInput } from '../report/model/report-input.ts'
import { recordedText } from '../terminal/text/recorded-text.ts'
import { nextAfter } from '../terminal/text/verdict-lines.ts'
import { reasonOf } from '../terminal/text/verdict-reason.ts'
import * as words from '../terminal/text/words.ts'
import { readVersion } from '../version.ts'
import { changedDrivers } from './changed-drivers.ts'
import { groundsOf } from './describe-run.ts'
import { earlierTests, type Starts } from './earlier-tests.ts'
import { numberReport, numberThatIs } from './number-report.ts'
import type { Evidence } from './read-evidence.ts'
import { unknownSetup } from './unknown-setup.ts'

type Given = {
  drivers: ReadonlyMap<string, Driver>
  /** Given by hand; null: the next one of this bench. */
  number: string | null
  /** The day that is given with it; null: not known. */
  issued?: string | null
  /** No report is made: none is allotted, and the one that is there already is told. */
  onlyTold?: true
  shop: ShopInput
  starts?: Starts
}

/** Of the recording at `path`, which was read. Throws a Problem that names it where its first line is damaged. */
export async function readReportInput(
  path: string,
  { run, proof }: Evidence,
  { drivers, number, issued = null, onlyTold, shop, starts = new Map() }: Given,
): Promise<ReportInput> {
  if (run.setup === null) throw unknownSetup(run, path)
  const { setup } = run
  const { start } = setup
  const analysis = ours(() => analyse(run, setup))
  const result = ours(() => judge(analysis))
  const grounds = groundsOf(run, setup, result)
  const thenAndNow = recordedText(result)
  const allotted = () =>
    onlyTold ? numberThatIs(proof.digest) : numberReport(result, proof.digest, start.simulated, thenAndNow)
  const numbered = number === null ? allotted() : { number, issued, amends: null }
  return {
    shop,
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
    earlier: await earlierTests(path, start, starts),
    words,
  }
}
