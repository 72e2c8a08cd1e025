// `rig lag`: recordings of one rig into the lag to state in its rig file.

import type { Run } from '../core/intake/run.ts'
import { lagShownBy, poolLags, type RigLag, rigMarks, type ShownLag } from '../core/rig-lag.ts'
import { roundToUncertainty } from '../core/statistics/round-to-uncertainty.ts'
import { Problem } from '../errors.ts'
import { ours } from '../heartbeat.ts'
import { loadDrivers } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { errorStatus, gravestStatus } from './exit-status.ts'
import { foldRecording } from './fold-recording.ts'
import { print, warn } from './print.ts'

const noLag = 2

type Test = { file: string; rig: string; shown: ShownLag }

/** Prints the pooled lag. Exit status 0 where there is one, 2 where no recording shows it, 65 where one cannot be read. */
export async function pooledLag(files: readonly string[], { json }: { json?: true }): Promise<number> {
  const findDecode = bindDrivers(await loadDrivers(userFolders().drivers))
  const statuses: number[] = []
  const tests: Test[] = []
  const seen = new Map<string, string>()
  let marks: { file: string; text: string } | null = null
  for (const file of files) {
    try {
      const run = await foldRecording(file, findDecode)
      const rig = run.setup?.start.rig
      const text: string = rig ? marksOf(run) : (marks?.text ?? '')
      if (rig && marks !== null && marks.text !== text)
        throw new Problem('rigs-mixed', `${file} was made on another rig than ${marks.file}.`)
      if (rig) marks ??= { file, text }
      tests.push({ file, rig: rig?.name ?? 'this rig', shown: ours(() => shownOnce(run, file, seen)) })
    } catch (error) {
      if (!(error instanceof Problem) || error.code === 'rigs-mixed') throw error
      statuses.push(errorStatus(error))
      warn(`makebreak: ${error.message}\n${error.next}\n`)
    }
  }
  const told = poolLags(tests.flatMap(({ shown }) => ('why' in shown ? [] : [shown])))
  const lag = told && rounded(told)
  if (json) print(JSON.stringify({ lag, ...told, tests }))
  else for (const line of linesOf(tests, told, lag)) print(line)
  return gravestStatus([...statuses, told === null ? noLag : 0])
}

/** A simulated bench is never the same as a real one, whatever its name. */
function marksOf(run: Run): string {
  const start = run.setup?.start
  return start ? `${rigMarks(start.rig)}${start.simulated}` : ''
}

/** A copy of a recording adds nothing. Simulated benches of one seed share an id and differ in their last moment. */
function shownOnce(run: Run, file: string, seen: Map<string, string>): ShownLag {
  const id = `${run.setup?.start.id ?? file} ${run.tUs}`
  const other = seen.get(id)
  if (other !== undefined) return { why: `the same test as ${other}` }
  seen.set(id, file)
  return lagShownBy(run)
}

/** The object of a rig file, no more digits than its uncertainty has. */
function rounded({ valueS, uS, n }: RigLag): { valueS: number; uS: number; n: number } {
  const text = roundToUncertainty(valueS, uS)
  return { valueS: Number(text?.value ?? valueS), uS: Number(text?.uncertainty ?? uS), n }
}

function linesOf(tests: readonly Test[], told: RigLag | null, lag: ReturnType<typeof rounded> | null): string[] {
  const each = tests.map(({ file, shown }) =>
    'why' in shown ? `${file}: left out: ${shown.why}` : `${file}: ${seconds(shown)}`,
  )
  if (told === null || lag === null) return [...each, 'No recording shows the lag.']
  const count = `${told.n} ${told.n === 1 ? 'test' : 'tests'}`
  return [
    ...each,
    `Lag of ${tests[0]?.rig} from ${count}: ${seconds(told)}.${agreement(told)}`,
    'For the rig file:',
    `  "lag": { "valueS": ${lag.valueS}, "uS": ${lag.uS}, "n": ${lag.n} }`,
  ]
}

function seconds({ valueS, uS }: { valueS: number; uS: number }): string {
  const text = roundToUncertainty(valueS, uS)
  return text ? `${text.value} s, u ${text.uncertainty} s` : `${valueS} s`
}

function agreement({ birgeRatio, p, agree }: RigLag): string {
  if (birgeRatio === null || p === null) return ' One test cannot be held against another.'
  const numbers = `Birge ratio ${birgeRatio.toFixed(1)}, p ${p < 0.001 ? 'under 0.001' : p.toFixed(3)}`
  if (agree) return ` They agree (${numbers}).`
  return ` They differ by more than their uncertainties allow (${numbers}): u is widened by that ratio. Look for what changed between them: hoses, damping, meter range.`
}
