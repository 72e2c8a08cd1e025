// A result that is reported into the number of its paper: allotted once, the same when it is printed again, amended where it is another.
import { createHash } from 'node:crypto'
import type { Result } from '../core/model/result.ts'
import { givenText } from '../core/text/figures-text.ts'
import { lastNumbered, numberOf } from '../numbers/number-of.ts'
import { openBenchKey } from '../signing/bench-key.ts'
import { userFolders } from '../user-folders.ts'

/** `issued`: when the number was allotted, ISO 8601. */
type Numbered = { number: string | null; issued: string | null; amends: { number: string; why: string } | null }

/** Figures in which a result is the same on every machine, and beyond what is printed. */
const figures = 6

/**
 * The number of the report of a recording with the SHA-256 `digest`. None for what may not be taken for a test of a part: simulated,
 * void, torn, damaged, or without a whole seal. Throws a Problem where key or number cannot be kept.
 */
export function numberReport(result: Result, digest: string, simulated: boolean, thenAndNow: string): Numbered {
  const { damage, verdict } = result
  const isWhole = damage.seal === 'intact' && !damage.torn && damage.corruptLines.length === 0
  if (simulated || !isWhole || verdict === 'void') return { number: null, issued: null, amends: null }
  const { signing, numbers } = userFolders()
  const { number, at, amends } = numberOf({
    folder: numbers,
    fingerprint: openBenchKey(signing).fingerprint,
    recordingId: result.id,
    recordingDigest: digest,
    resultDigest: createHash('sha256').update(rounded(result)).digest('hex'),
    at: new Date(),
    why: thenAndNow || 'it was worked out once more with another program',
  })
  return { number, issued: at, amends }
}

/** The number that the last report of that recording has, where one was ever made. */
export function numberThatIs(digest: string): Numbered {
  const last = lastNumbered(userFolders().numbers, digest)
  return { number: last?.number ?? null, issued: last?.at ?? null, amends: last?.amends ?? null }
}

const rounded = (result: Result) =>
  JSON.stringify(result, (_, value) => (typeof value === 'number' ? givenText(value, figures) : value))
