// A part or a rig, named or by path, into a checked object; each mistake in it into one sentence that shows the value.
import { readFile, stat } from 'node:fs/promises'
import { basename, join } from 'node:path'
import type { z } from 'zod'
import { type Part, partFileSchema, ratingOf } from '../core/part.ts'
import { type Rig, rigFileSchema, rigPorts } from '../core/rig.ts'
import { type PressureUnit, pressureUnits } from '../core/units.ts'
import { type Driver, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'
import { describeIssue, type NameField } from './describe-issue.ts'
import { findJsonFault } from './find-json-fault.ts'
import { listSetups } from './list-setups.ts'

type Kind = 'part' | 'rig'

const maxFileBytes = 1_000_000
/** How many mistakes one sentence tells: more are hard to read, and the first often causes the rest. */
const maxMistakes = 3

/** The part that `given` names: a path (it has a folder or ends in .json) or NAME for NAME.json in `folder`. */
export async function readPart(given: string, folder: string): Promise<Part> {
  const { path, json } = await readJson('part', given, folder)
  const part = check('part', path, json, partFileSchema)
  const mistake = limitMistake(part)
  if (mistake !== null) throw new Problem('part-invalid', `${path}: ${mistake.text}.`)
  return part
}

/** The rig that `given` names, as for a part; each of its drivers is one of `drivers` and takes the options stated. */
export async function readRig(given: string, folder: string, drivers: ReadonlyMap<string, Driver>): Promise<Rig> {
  const { path, json } = await readJson('rig', given, folder)
  const rig = check('rig', path, json, rigFileSchema)
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
  return rig
}

async function readJson(kind: Kind, given: string, folder: string): Promise<{ path: string; json: unknown }> {
  const path = await findFile(kind, given, folder)
  const text = await readText(kind, path)
  if (text.trim() === '') throw new Problem('not-json', `${path} is empty; a ${kind} file holds one JSON object.`)
  const fault = findJsonFault(text)
  if (fault) throw new Problem('not-json', `${path}, line ${fault.line}, column ${fault.column}: ${fault.what}.`)
  return { path, json: JSON.parse(text) }
}

async function findFile(kind: Kind, given: string, folder: string): Promise<string> {
  const isName = basename(given) === given && !given.endsWith('.json') && !['', '.', '..'].includes(given)
  if (!isName) return given
  const path = join(folder, `${given}.json`)
  if (await stat(path).catch(() => null)) return path
  const known = await listSetups(folder)
  const there = known.length === 0 ? `${folder} holds no ${kind} yet` : `${folder} holds ${known.join(', ')}`
  throw new Problem('file-missing', `There is no ${kind} named "${given}": ${there}.`)
}

async function readText(kind: Kind, path: string): Promise<string> {
  try {
    const found = await stat(path)
    if (!found.isFile()) throw new Problem('file-unreadable', `${path} is no file, so it cannot be a ${kind}.`)
    if (found.size > maxFileBytes)
      throw new Problem(
        'file-unreadable',
        `${path} has ${found.size} bytes; a ${kind} file has at most ${maxFileBytes}.`,
      )
    return new TextDecoder('utf-8', { fatal: true }).decode(await readFile(path))
  } catch (error) {
    if (error instanceof Problem) throw error
    const { code, message } = error as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') throw new Problem('file-missing', `There is no ${kind} file ${path}.`)
    if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA') throw new Problem('not-json', `${path} is no UTF-8 text.`)
    throw new Problem('file-unreadable', `${path} cannot be read (${code ?? message}).`)
  }
}

function check<T>(kind: Kind, path: string, json: unknown, schema: z.ZodType<T>): T {
  const parsed = schema.safeParse(json)
  if (parsed.success) return parsed.data
  const { issues } = parsed.error
  const told = issues.slice(0, maxMistakes).map((issue) => describeIssue(issue, json))
  const rest = issues.length > told.length ? `; and ${issues.length - told.length} more` : ''
  throw new Problem(`${kind}-invalid`, `${path}: ${told.join('; ')}${rest}.`)
}

/**
 * What the schema cannot see: a limit below zero, a pressure that nothing can draw, a break above the make, and a rated
 * point outside its own limits (most often a wrong unit). The field it stands in, and the sentence without its end.
 */
export function limitMistake(part: Part, called: NameField = (path) => path): { field: string; text: string } | null {
  const wrong = (field: string, what: string) => ({ field, text: `${called(field)} ${what}` })
  const tooMuch = (field: string, value: number, unit: PressureUnit) =>
    value * pressureUnits[unit] > atmospherePa
      ? wrong(field, `is ${value} ${unit}; it must be at most ${inUnit(atmospherePa, unit)}, the pressure of the air`)
      : null
  const { rated, limits: stated } = part
  const absurd = tooMuch('rated.value', rated.value, rated.unit)
  if (absurd) return absurd
  for (const name of ['make', 'break', 'differential'] as const)
    for (const side of ['low', 'high'] as const) {
      const value = stated?.[name]?.[side] ?? 0
      const unit = stated?.[name]?.unit ?? 'Pa'
      const field = `limits.${name}.${side}`
      if (value < 0) return wrong(field, `is ${value} ${unit}; it must be at least 0, or null where there is no limit`)
      const far = tooMuch(field, value, unit)
      if (far) return far
    }
  const { ratedPa, ratedOn, limits } = ratingOf(part)
  const slackPa = 1e-9 * ratedPa
  const [breakLowPa, makeHighPa] = [limits.break?.lowPa ?? 0, limits.make?.highPa ?? Infinity]
  if (breakLowPa > makeHighPa + slackPa)
    return wrong(
      'limits.break.low',
      `is ${stated?.break?.low} ${stated?.break?.unit}; it must be at most ${called('limits.make.high')} ` +
        `${stated?.make?.high} ${stated?.make?.unit}, because a switch breaks below where it makes`,
    )
  const { lowPa = null, highPa = null } = limits[ratedOn] ?? {}
  if ((lowPa ?? 0) <= ratedPa + slackPa && ratedPa - slackPa <= (highPa ?? Infinity)) return null
  const limit = stated?.[ratedOn]
  const same = limit && limit.unit !== rated.unit ? ` (${inUnit(ratedPa, limit.unit)})` : ''
  const range = `${limit?.low ?? 'any'} to ${limit?.high ?? 'any'} ${limit?.unit}`
  return wrong('rated.value', `${rated.value} ${rated.unit}${same} is outside ${called(`limits.${ratedOn}`)} ${range}`)
}

/** No vacuum is deeper: the standard atmosphere by definition, Pa (ISO 2533:1975). */
const atmospherePa = 101_325

const inUnit = (pa: number, unit: PressureUnit) => `${Number((pa / pressureUnits[unit]).toPrecision(3))} ${unit}`
