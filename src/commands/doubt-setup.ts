// A part or a rig that is without mistakes into what of it is hardly meant, or is missing for a verdict: said, and in nobody's way.
import { partFileSchema } from '../core/model/part.ts'
import { rigFileSchema, rigPorts } from '../core/model/rig.ts'
import { pressureUnits } from '../core/model/units.ts'
import { oneUnitText } from '../core/text/pressure-text.ts'
import type { SetupMistake } from './check-setup.ts'
import type { NameField } from './describe-issue.ts'
import { limitMistake } from './read-setup.ts'

export type SetupDoubt = SetupMistake & { doubt: true }
type Json = Readonly<Record<string, unknown>>

/** Rated points of draft and vacuum switches, with room on both sides: 0.005 to 10 inH2O (common practice, no source). */
const usualPa = { least: 1.25, most: 2_500 } as const

const doubt = (field: string, text: string): SetupDoubt => ({ field, text, doubt: true })

/** What is doubtful in `json` as a part file; nothing where it is wrong. `called` names its fields. */
export function partDoubts(json: Json, called: NameField = (path) => path): SetupDoubt[] {
  const checked = partFileSchema.safeParse(json)
  if (!checked.success || limitMistake(checked.data) !== null) return []
  const { value, unit } = checked.data.rated
  const ratedPa = value * pressureUnits[unit]
  if (ratedPa >= usualPa.least && ratedPa <= usualPa.most) return []
  const usual = (pa: number) => oneUnitText(pa, unit, { upTo: 2 })
  const what = `${called('rated.value')} is ${value} ${unit}; usual are ${usual(usualPa.least)} to ${usual(usualPa.most)}`
  return [doubt('rated.value', `${what}: are number and unit those on the label?`)]
}

/** What is doubtful in `json` as a rig file on the day `today` (`YYYY-MM-DD`); nothing where it is none. */
export function rigDoubts(json: Json, today: string, called: NameField = (path) => path): SetupDoubt[] {
  const checked = rigFileSchema.safeParse(json)
  if (!checked.success) return []
  const rig = checked.data
  const at = rig.bridge ? 'bridge' : 'manometer'
  const manometer = rig.bridge ?? rig.manometer
  const due = manometer?.identity?.due ?? null
  const portless = rigPorts(rig).filter(({ device }) => !device.port?.path)
  return [
    ...portless.map(({ name }) =>
      doubt(`${name}.port.path`, `${called(`${name}.port.path`)} is empty; a test needs it.`),
    ),
    ...(manometer?.accuracy || manometer?.calibration
      ? []
      : [
          doubt(
            `${at}.accuracy.ofReading`,
            `${called(`${at}.accuracy`)} is not stated; without it a test is not assessed.`,
          ),
        ]),
    ...(due !== null && due < today
      ? [
          doubt(
            `${at}.identity.due`,
            `${called(`${at}.identity.due`)} is ${due}, which is past; a test with this manometer is not assessed.`,
          ),
        ]
      : []),
  ]
}
