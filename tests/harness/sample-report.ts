// A golden recording into what its report is made from; and the same as if it came from a real bench.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { readReportInput } from '../../src/commands/read-report-input.ts'
import type { Result } from '../../src/core/model/result.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import type { Block, Fact, Report } from '../../src/report/model/report.ts'
import type { ReportInput } from '../../src/report/model/report-input.ts'

const drivers = await loadDrivers()

/** The input of `recordings/NAME.run`. */
export function goldenInput(name: string): Promise<ReportInput> {
  const path = new URL(`../../recordings/${name}.run`, import.meta.url).pathname
  return readReportInput(path, { drivers, findDecode: bindDrivers(drivers), number: null })
}

type Start = ReportInput['analysis']['setup']['start']

/** `input` with other fields of its first line and of its result; not simulated unless that is said. */
export function changedInput(
  input: ReportInput,
  start: Partial<Start> = {},
  result: Partial<Result> = {},
): ReportInput {
  const { analysis, curve } = input
  const begun = { ...analysis.setup.start, simulated: false, ...start }
  return {
    ...input,
    analysis: { ...analysis, setup: { ...analysis.setup, start: begun } },
    curve: { ...curve, simulated: begun.simulated },
    result: { ...input.result, ...result },
  }
}

const blocksOf = ({ sections }: Report): Block[] => sections.flatMap(({ blocks }) => blocks)

/** The fact of this label; throws where there is none. */
export function factOf(report: Report, label: string): string | null {
  const facts = blocksOf(report).flatMap((block): readonly Fact[] => (block.kind === 'facts' ? block.facts : []))
  const fact = facts.find((each) => each.label === label)
  if (fact === undefined) throw new Error(`no fact ${label}`)
  return fact.value
}

/** The rows of the table whose first column has this head. */
export function tableOf(report: Report, head: string): readonly (readonly string[])[] {
  for (const block of blocksOf(report)) if (block.kind === 'table' && block.head[0] === head) return block.rows
  throw new Error(`no table ${head}`)
}
