// A part or a rig, named or by path, into a checked object; each mistake in it into one sentence that shows the value.
import { stat } from 'node:fs/promises'
import { basename, join } from 'node:path'
import type { z } from 'zod'
import { fieldsOf } from '../core/model/fields.ts'
import { type Part, partFileSchema } from '../core/model/part.ts'
import { type Rig, rigFileSchema, rigPorts } from '../core/model/rig.ts'
import { type DriverFacts, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'
import { describeIssue, namesAt } from './describe-issue.ts'
import { limitMistake } from './limit-mistake.ts'
import { listSetups } from './list-setups.ts'
import { portMistake } from './port-mistake.ts'
import { readJsonFile } from './read-json-file.ts'

type Kind = 'part' | 'rig'
type Drivers = ReadonlyMap<string, DriverFacts>

/** How many mistakes one sentence tells: more are hard to read, and the first often causes the rest. */
const maxMistakes = 3

/** The part that `given` names: a path (it has a folder or ends in .json) or NAME for NAME.json in `folder`. */
export async function readPart(given: string, folder: string): Promise<Part> {
  const path = await findFile('part', given, folder)
  return partFrom(path, await readJsonFile('part', path))
}

/** The part that `json` of `path` is. */
export function partFrom(path: string, json: unknown): Part {
  const part = check('part', path, json, partFileSchema)
  const mistake = limitMistake(part, namesAt({ fields: fieldsOf(partFileSchema), inFile: true }))
  if (mistake !== null) throw new Problem('part-invalid', `${path}: ${mistake.text}.`)
  return part
}

/** The rig that `given` names, as for a part; each of its drivers is one of `drivers` and takes the options stated. */
export async function readRig(given: string, folder: string, drivers: Drivers): Promise<Rig> {
  return (await readRigWith(given, folder, async () => drivers)).rig
}

/** As readRig, with the drivers that `driversOf` gives once the rest of the file is known to be right. */
export async function readRigWith(
  given: string,
  folder: string,
  driversOf: (rig: Rig) => Promise<Drivers>,
): Promise<{ rig: Rig; drivers: Drivers }> {
  const path = await findFile('rig', given, folder)
  return rigFrom(path, await readJsonFile('rig', path), driversOf)
}

/** The rig that `json` of `path` is, with its drivers. */
export async function rigFrom(
  path: string,
  json: unknown,
  driversOf: (rig: Rig) => Promise<Drivers>,
): Promise<{ rig: Rig; drivers: Drivers }> {
  const rig = check('rig', path, json, rigFileSchema)
  const drivers = await driversOf(rig)
  const shared = portMistake(rig)
  if (shared !== null) throw new Problem('rig-invalid', `${path}: ${shared.text}.`)
  for (const { name, device } of rigPorts(rig)) {
    const driver = drivers.get(device.driver)
    if (!driver) {
      const known = [...drivers.keys()].sort().join(', ')
      throw new Problem(
        'driver-unknown',
        `${path}: ${name}.driver is "${device.driver}"; the drivers here are ${known}.`,
      )
    }
    try {
      resolveOptions(driver, device.options)
    } catch (error) {
      if (error instanceof Problem) throw new Problem(error.code, `${path}, ${name}: ${error.message}`)
      throw error
    }
  }
  return { rig, drivers }
}

async function findFile(kind: Kind, given: string, folder: string): Promise<string> {
  const isName = basename(given) === given && !given.endsWith('.json') && !['', '.', '..'].includes(given)
  if (!isName) return given
  const path = join(folder, `${given}.json`)
  if (await stat(path).catch(() => null)) return path
  const known = await listSetups(folder)
  const there = known.length === 0 ? `${folder} holds no ${kind} yet` : `${folder} holds ${nearest(given, known)}`
  throw new Problem('file-missing', `No ${kind} is named "${given}": ${there}.`)
}

/** So many names are told at most. */
const mostNames = 8

/** The names that begin as `given` does, most letters first; all of them where they are few. */
function nearest(given: string, known: readonly string[]): string {
  const alike = (name: string) => {
    const [a, b] = [given.toLowerCase(), name.toLowerCase()]
    const differs = [...a].findIndex((letter, i) => letter !== b[i])
    return differs < 0 ? a.length : differs
  }
  if (known.length <= mostNames) return known.join(', ')
  const near = known.toSorted((a, b) => alike(b) - alike(a)).slice(0, mostNames)
  return `${near.join(', ')} and ${known.length - near.length} more`
}

function check<T>(kind: Kind, path: string, json: unknown, schema: z.ZodType<T>): T {
  const parsed = schema.safeParse(json)
  if (parsed.success) return parsed.data
  const { issues } = parsed.error
  const place = { fields: fieldsOf(schema), inFile: true }
  const told = issues.slice(0, maxMistakes).map((issue) => describeIssue(issue, json, place))
  const rest = issues.length > told.length ? `; and ${issues.length - told.length} more` : ''
  throw new Problem(`${kind}-invalid`, `${path}: ${told.join('; ')}${rest}.`)
}
