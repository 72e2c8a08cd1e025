// The object of a part or rig file, as a form makes it, into its mistakes, each with the field it stands in, its value, unit and limit.
import { partFileSchema } from '../core/part.ts'
import { rigFileSchema, rigPorts } from '../core/rig.ts'
import { type Driver, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'
import { describeIssue } from './describe-issue.ts'
import { limitMistake } from './read-setup.ts'

export type SetupMistake = { field: string; text: string }
type Json = Readonly<Record<string, unknown>>

/** What is wrong with `json` as a part file; empty where nothing is. */
export function partMistakes(json: Json): SetupMistake[] {
  const checked = partFileSchema.safeParse(json)
  if (!checked.success) return issuesOf(checked.error.issues, json)
  const mistake = limitMistake(checked.data)
  return mistake === null ? [] : [{ field: mistake.split(' ')[0] ?? '', text: `${mistake}.` }]
}

/** What is wrong with `json` as a rig file for these drivers; empty where nothing is. */
export function rigMistakes(json: Json, drivers: ReadonlyMap<string, Driver>): SetupMistake[] {
  const checked = rigFileSchema.safeParse(json)
  if (!checked.success) return issuesOf(checked.error.issues, json)
  return rigPorts(checked.data).flatMap(({ name, device }) => {
    const driver = drivers.get(device.driver)
    if (!driver) return [{ field: `${name}.driver`, text: `There is no driver "${device.driver}" here.` }]
    try {
      resolveOptions(driver, device.options)
      return []
    } catch (error) {
      if (!(error instanceof Problem)) throw error
      return [{ field: `${name}.options`, text: `${name}: ${error.message}` }]
    }
  })
}

function issuesOf(issues: readonly Parameters<typeof describeIssue>[0][], json: Json): SetupMistake[] {
  return issues.map((issue) => {
    const field = issue.path.join('.')
    const said = describeIssue(issue, json).replace(/ \(no quotes around it\)/g, '')
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
