// A golden recording into what its report is made from; and the same as if it came from a real bench.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { readEvidence } from '../../src/commands/read-evidence.ts'
import { readReportInput } from '../../src/commands/read-report-input.ts'
import type { Result } from '../../src/core/model/result.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { decodePng } from '../../src/report/decode-png.ts'
import type { Block, Fact, Report } from '../../src/report/model/report.ts'
import type { ReportInput, ShopInput } from '../../src/report/model/report-input.ts'
import { encodePng } from './encode-png.ts'

const drivers = await loadDrivers()

/** A shop that has stated nothing. */
export const noShop: ShopInput = { name: null, address: null, place: null, logo: null, unit: 'Pa' }

/** The input of `recordings/NAME.run`. */
export async function goldenInput(name: string): Promise<ReportInput> {
  const path = new URL(`../../recordings/${name}.run`, import.meta.url).pathname
  const evidence = await readEvidence(path, bindDrivers(drivers))
  return readReportInput(path, evidence, { drivers, shop: noShop, number: null })
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

/** A report as a customer gets it: a signed test of a real part over ten cycles, with all that a shop and a technician state. */
export function customerInput(input: ReportInput): ReportInput {
  const { cycles } = input.result
  const counted = cycles.filter(({ used }) => used)
  const [first, second] = cycles
  const again = Array.from({ length: 10 }, (_, i) => counted[i % counted.length]!)
  const strokes = [first!, second!, second!, second!, ...again].map((cycle, i) => ({ ...cycle, stroke: i + 1 }))
  const changed = changedInput(
    input,
    { job: { customer: 'Ash & Sons, stove shop', order: '7-12' }, operator: 'R. N.', software: '0.1.0' },
    { cycles: strokes, acted: { strokes: 14, made: 14, released: 14, discarded: 0 } },
  )
  const { rig } = changed.analysis.setup.start
  const identity = { serial: '88-1204', certificate: 'HL-26-0311', due: '2027-03-31' }
  const known = { ...rig, manometer: { ...rig.manometer, identity }, meter: { ...rig.meter, identity } }
  changed.analysis.setup.start.rig = { ...known, name: 'north bench' } as typeof rig
  return {
    ...changed,
    shop: {
      ...noShop,
      name: 'Hollin Lane workshop',
      address: '4 Hollin Lane, Northwick',
      place: 'bench room',
      logo: sampleLogo(),
    },
    number: 'AB12 2027 0114',
    issued: '2027-03-14T09:40:00.000Z',
    signed: {
      key: 'ab12'.repeat(16),
      signature: `${'c2ln'.repeat(21)}cw==`,
      told: 'signed by the key of this bench, ab12 ab12 ab12 ab12',
    },
  }
}

/** A logo of three discs. */
function sampleLogo(): NonNullable<ReportInput['shop']['logo']> {
  const [width, height] = [180, 60]
  const inDisc = (x: number, y: number) => [30, 90, 150].some((at) => Math.hypot(x - at, y - 30) < 26)
  const png = encodePng(width, height, 2, (x, y) => (inDisc(x, y) ? [15, 107, 107] : [255, 255, 255]))
  const picture = decodePng(png)
  if ('why' in picture) throw new Error(picture.why)
  return { picture, png }
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

/** The head of the table whose first column has this head. */
export function headOf(report: Report, head: string): readonly string[] {
  for (const block of blocksOf(report)) if (block.kind === 'table' && block.head[0] === head) return block.head
  throw new Error(`no table ${head}`)
}
