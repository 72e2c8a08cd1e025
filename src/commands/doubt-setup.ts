// A part or a rig that is without mistakes into what of it is hardly meant, or is missing for a verdict: said, and in nobody's way.
import { calledAt, fieldsOf } from '../core/model/fields.ts'
import { type Part, partFileSchema } from '../core/model/part.ts'
import { type Rig, rigFileSchema, wiredPorts } from '../core/model/rig.ts'
import { pressureUnits } from '../core/model/units.ts'
import { percentText, shareOfPercent } from '../core/text/percent-text.ts'
import { oneUnitText } from '../core/text/pressure-text.ts'
import { partMistakes, type SetupMistake } from './check-setup.ts'
import { partUnitDoubts, reachDoubt } from './doubt-units.ts'

export type SetupDoubt = SetupMistake & { doubt: true }
type Json = Readonly<Record<string, unknown>>

/** Rated points of draft and vacuum switches, with room on both sides: 0.005 to 10 inH2O (common practice, no source). */
const usualPa = { least: 1.25, most: 2_500 } as const

const doubt = (field: string, text: string): SetupDoubt => ({ field, text, doubt: true })

/** What is doubtful in `json` as a part file; nothing where it is wrong. */
export function partDoubts(json: Json): SetupDoubt[] {
  const checked = partFileSchema.safeParse(json)
  if (!checked.success || partMistakes(json).length > 0) return []
  const { value, unit } = checked.data.rated
  const ratedPa = value * pressureUnits[unit]
  const others = partUnitDoubts(checked.data).map(({ field, text }) => doubt(field, text))
  if (ratedPa >= usualPa.least && ratedPa <= usualPa.most) return others
  const usual = (pa: number) => oneUnitText(pa, unit, { upTo: 2 })
  const called = calledAt(fieldsOf(partFileSchema), 'rated.value')
  const what = `${called} is ${value} ${unit}; usual are ${usual(usualPa.least)} to ${usual(usualPa.most)}`
  return [doubt('rated.value', `${what}: are number and unit those on the label?`), ...others]
}

/** What is asked about a part on a rig before their test, each in a sentence; empty where all fits. */
export function testDoubts(part: Part, rig: Rig): string[] {
  const ofPart = partDoubts(part as Json).map(({ text }) => text)
  return [...ofPart, reachDoubt(part, rig) ?? '']
    .filter((text) => text !== '')
    .map((text) => `Before the test: ${text}`)
}

/** What is doubtful in `json` as a rig file on the day `today` (`YYYY-MM-DD`); nothing where it is none. */
export function rigDoubts(json: Json, today: string): SetupDoubt[] {
  const checked = rigFileSchema.safeParse(json)
  if (!checked.success) return []
  const rig = checked.data
  const at = rig.bridge ? 'bridge' : 'manometer'
  const manometer = rig.bridge ?? rig.manometer
  const due = manometer?.identity?.due ?? null
  const meterDue = rig.meter?.identity?.due ?? null
  const secondDue = rig['manometer-2']?.identity?.due ?? null
  const doubtAt = (field: string, text: string) => doubt(field, `${calledAt(fieldsOf(rigFileSchema), field)} ${text}`)
  return [
    ...wiredPorts(rig)
      .filter(({ device }) => !device.port?.path)
      .map(({ name }) => doubtAt(`${name}.port.path`, 'is empty; a test needs it.')),
    ...(manometer?.accuracy || manometer?.calibration
      ? []
      : [doubtAt(`${at}.accuracy`, 'is not stated; without it a test is not assessed.')]),
    ...(due !== null && due < today
      ? [doubtAt(`${at}.identity.due`, `is ${due}, which is past; a test with this manometer is not assessed.`)]
      : []),
    ...(meterDue !== null && meterDue < today
      ? [doubtAt('meter.identity.due', `is ${meterDue}, which is past; the resistance of a contact is not assessed.`)]
      : []),
    ...(secondDue !== null && secondDue < today
      ? [doubtAt('manometer-2.identity.due', `is ${secondDue}, which is past; it proves nothing of the line.`)]
      : []),
    ...shareDoubts(json),
  ]
}

/** Shares so large that the percent sign is most likely missing: both readings in one sentence. */
function shareDoubts(json: Json): SetupDoubt[] {
  return fieldsOf(rigFileSchema).flatMap(({ path, called, shareOf, usualMost }) => {
    const value = path.split('.').reduce<unknown>((at, key) => (at as Json | null | undefined)?.[key], json)
    if (typeof value !== 'number' || usualMost === null || value < usualMost) return []
    const meant = `${value} means ${percentText(value)} of ${shareOf}`
    return [doubt(path, `${called}: ${meant}; ${value} % is ${shareOfPercent(`${value} %`)}.`)]
  })
}
