// The object of a part or rig file, as a form makes it, into its mistakes, each with the field it stands in, its value, unit and limit.
import { partFileSchema } from '../core/model/part.ts'
import { rigFileSchema, rigPorts } from '../core/model/rig.ts'
import { type Driver, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'
import { describeIssue, type NameField } from './describe-issue.ts'
import { limitMistake } from './read-setup.ts'

export type SetupMistake = { field: string; text: string }
type Json = Readonly<Record<string, unknown>>

/** What is wrong with `json` as a part file; empty where nothing is. `called` names its fields. */
export function partMistakes(json: Json, called?: NameField): SetupMistake[] {
  const checked = partFileSchema.safeParse(json)
  if (!checked.success) return issuesOf(checked.error.issues, json, called)
  const mistake = limitMistake(checked.data, called)
  return mistake === null ? [] : [{ field: mistake.field, text: `${mistake.text.replace(nullHint, '')}.` }]
}

/** A field that may be empty is no null to write. */
const nullHint = /, or null where there is no limit$/

/** What is wrong with `json` as a rig file for these drivers; empty where nothing is. `called` names its fields. */
export function rigMistakes(
  json: Json,
  drivers: ReadonlyMap<string, Driver>,
  called: NameField = (path) => path,
): SetupMistake[] {
  const checked = rigFileSchema.safeParse(json)
  if (!checked.success) return issuesOf(checked.error.issues, json, called)
  return rigPorts(checked.data).flatMap(({ name, device }) => {
    const driver = drivers.get(device.driver)
    if (!driver) return [{ field: `${name}.driver`, text: `There is no driver "${device.driver}" here.` }]
    return Object.entries(device.options ?? {}).flatMap(([option, value]) =>
      optionMistake(driver, option, value, `${name}.options.${option}`, called),
    )
  })
}

function optionMistake(
  driver: Driver,
  option: string,
  value: string | number,
  field: string,
  called: NameField,
): SetupMistake[] {
  try {
    resolveOptions(driver, { [option]: value })
    return []
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    // An option that has a field is named as that is; else the driver's own sentence says which it is.
    const text = error.message.replace(`Option "${option}" of the driver "${driver.id}" is`, `${called(field)} is`)
    return [{ field, text }]
  }
}

function issuesOf(
  issues: readonly Parameters<typeof describeIssue>[0][],
  json: Json,
  called?: NameField,
): SetupMistake[] {
  return issues.map((issue) => {
    const field = issue.path.join('.')
    const said = describeIssue(issue, json, called).replace(/ \(no quotes around it\)/g, '')
    const unit = unitOf(issue.path, json)
    const withUnit =
      unit === ''
        ? said
        : said.replace(/ is (-?[\d.e+-]+); it must be (.+ -?[\d.e+-]+)$/, ` is $1 ${unit}; it must be $2 ${unit}`)
    return { field, text: `${withUnit}.` }
  })
}

/** The unit that a number at `path` is in: the one stated beside it, or the one its name ends in. */
function unitOf(path: readonly PropertyKey[], json: Json): string {
  const name = String(path.at(-1) ?? '')
  if (name.endsWith('Ohm')) return 'ohm'
  const beside = path
    .slice(0, -1)
    .reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown> | null)?.[key], json)
  const unit = (beside as Json | null | undefined)?.['unit']
  return typeof unit === 'string' ? unit : ''
}
