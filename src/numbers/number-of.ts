// A recording and its result into the number of their report: allotted once, repeated when asked again, amended when the result is another.
//
// A folder holds a file for each number, PREFIX-YEAR/COUNT.json, and one for each report of a recording, reports/DIGEST-NTH.json.
// Each is created once and never changed, and of two programs only one can create it. Where two ask for the same report at
// the same moment, the number of the one that comes second is never used.
import { mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { folderProblem, Problem } from '../errors.ts'
import { createWhole } from '../recording/create-whole.ts'
import { numberText, parseNumber, prefixOf } from './number-text.ts'

export type NumberAsked = {
  /** Where numbers are kept; made where it is missing. */
  folder: string
  /** The fingerprint of the bench's key. */
  fingerprint: string
  /** SHA-256 (hex) of the recording, and of the result as it is reported. */
  recordingDigest: string
  resultDigest: string
  /** When it is asked for; its year (UTC) goes into the number. */
  at: Date
  /** Why the result may be another than at the last report, as a sentence; kept where it is. */
  why: string
}

export type Numbered = {
  number: string
  recordingDigest: string
  resultDigest: string
  /** ISO 8601, when the number was allotted. */
  at: string
  /** The number of the report that this one takes the place of, and why; null for the first of a recording. */
  amends: { number: string; why: string } | null
}

const digestForm = /^[0-9a-f]{64}$/

/** Throws a Problem where `folder` takes no file, or what is in it cannot be read. */
export function numberOf(asked: NumberAsked): Numbered {
  const { folder, fingerprint, recordingDigest, resultDigest, at, why } = asked
  for (const digest of [recordingDigest, resultDigest])
    if (!digestForm.test(digest)) throw new Error(`numbers: "${digest}" is not a SHA-256`)
  const reports = join(folder, 'reports')
  try {
    mkdirSync(reports, { recursive: true, mode: 0o700 })
    for (let nth = 1, last: Numbered | null = null; ; nth++) {
      const path = join(reports, `${recordingDigest}-${nth}.json`)
      const found = readNumbered(path)
      if (found !== null) {
        last = found
        continue
      }
      // Only the last report counts: a result that comes back after another is an amendment too.
      if (last?.resultDigest === resultDigest) return last
      const amends = last && { number: last.number, why }
      const given = allot(folder, prefixOf(fingerprint), {
        ...{ recordingDigest, resultDigest, at: at.toISOString(), amends },
      })
      if (createWhole(path, JSON.stringify(given))) return given
      // Another program was quicker with a report of this recording: what it wrote is looked at next.
      nth--
    }
  } catch (error) {
    throw error instanceof Problem ? error : folderProblem(error, `No number can be allotted in ${folder}`, folder)
  }
}

/** What was allotted under the number that was typed or scanned; null where none was. */
export function findNumbered(folder: string, text: string): Numbered | null {
  const number = parseNumber(text)
  if (number === null) return null
  const { prefix, year, count } = number
  const found = readNumbered(join(folder, `${prefix}-${year}`, `${count}.json`))
  if (found === null) return null
  // A number that was never used has no report.
  for (let nth = 1; ; nth++) {
    const report = readNumbered(join(folder, 'reports', `${found.recordingDigest}-${nth}.json`))
    if (report === null || report.number === found.number) return report
  }
}

/** The last report of the recording with that digest; null where there is none yet. */
export function lastNumbered(folder: string, recordingDigest: string): Numbered | null {
  for (let nth = 1, last: Numbered | null = null; ; nth++) {
    const found = readNumbered(join(folder, 'reports', `${recordingDigest}-${nth}.json`))
    if (found === null) return last
    last = found
  }
}

/** Takes the next number of its year. */
function allot(folder: string, prefix: string, report: Omit<Numbered, 'number'>): Numbered {
  const year = Number.parseInt(report.at, 10)
  const own = join(folder, `${prefix}-${year}`)
  mkdirSync(own, { recursive: true, mode: 0o700 })
  for (let count = highestIn(own) + 1; ; count++) {
    const given = { number: numberText({ prefix, year, count }), ...report }
    if (createWhole(join(own, `${count}.json`), JSON.stringify(given))) return given
  }
}

function highestIn(folder: string): number {
  return readdirSync(folder).reduce((highest, name) => {
    const found = /^(\d+)\.json$/.exec(name)
    return found ? Math.max(highest, Number(found[1])) : highest
  }, 0)
}

/** Null where the file is not there. */
function readNumbered(path: string): Numbered | null {
  try {
    return JSON.parse(readFileSync(path, 'utf8'))
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
    if (!(error instanceof SyntaxError)) throw error
    throw new Problem('numbers-damaged', `The file ${path}, which keeps a report's number, is damaged.`)
  }
}
