// A result into how much its paper may claim: whether limits are decided, and what is written across each page.
import type { Result } from '../../core/model/result.ts'
import type { ReportInput } from './report-input.ts'

type Judged = Pick<Result, 'verdict' | 'damage'>

/** What is wrong with the recording, in capitals; null where it is whole and sealed. */
function damageWord({ damage }: Judged): string | null {
  if (damage.corruptLines.length > 0) return 'DAMAGED RECORDING'
  if (damage.torn) return 'TORN RECORDING'
  return damage.seal === 'intact' ? null : damage.seal === 'broken' ? 'BROKEN SEAL' : 'NOT SEALED'
}

/** Whether outcomes of single limits may be printed: doubt about the whole is doubt about each. */
export const decidesLimits = (result: Judged): boolean =>
  damageWord(result) === null && ['pass', 'fail', 'undecided'].includes(result.verdict)

/**
 * Across each page: SIMULATED first of all, then what is wrong with the recording, then a verdict that is no pass. Null for
 * a pass alone, and for a fail, which says so itself.
 */
export function stampOf({
  result,
  analysis,
  words,
}: Pick<ReportInput, 'result' | 'analysis' | 'words'>): string | null {
  if (analysis.setup.start.simulated) return 'SIMULATED'
  const damage = damageWord(result)
  if (damage !== null) return damage
  if (result.verdict === 'pass' || result.verdict === 'fail') return null
  const { word } = words.verdictWords[result.verdict]
  return result.verdict === 'undecided' ? `${word}, NOT PASSED` : word
}

/** The verdict's word as it may be printed large: a simulated one never without that. */
export function verdictWord({ result, analysis, words }: Pick<ReportInput, 'result' | 'analysis' | 'words'>): string {
  const { word } = words.verdictWords[result.verdict]
  return analysis.setup.start.simulated ? `SIMULATED ${word}: no real part was tested` : word
}
