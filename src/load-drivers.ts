// Files of drivers/ (beside source or dist) and of a user's own folder into the drivers by id.
import { existsSync, readdirSync } from 'node:fs'
import { basename, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { errorText } from './core/text/error-text.ts'
import { checkDriver, type Driver } from './driver.ts'
import { Problem } from './errors.ts'

const ownFolder = fileURLToPath(new URL('../drivers/', import.meta.url))
const ownEnding = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'

/**
 * The project's drivers and those of `userFolder` (self-contained `.mjs` files; null or an absent folder: none), by id.
 * Throws the Problem `driver-invalid` for a file that does not load, is no driver, or takes an id that is already there.
 */
export async function loadDrivers(userFolder: string | null = null): Promise<ReadonlyMap<string, Driver>> {
  const files = [...filesOf(ownFolder, ownEnding), ...(userFolder === null ? [] : filesOf(userFolder, '.mjs'))]
  const drivers = new Map<string, Driver>()
  for (const file of files) {
    const driver = await loadDriver(file)
    if (drivers.has(driver.id))
      throw new Problem('driver-invalid', `${file}: the driver id "${driver.id}" is already taken.`)
    drivers.set(driver.id, driver)
  }
  return drivers
}

/** Ids of the project's own drivers: no other driver may take one. */
export function ownDriverIds(): string[] {
  return filesOf(ownFolder, ownEnding).map(idOf)
}

/** The id that a driver's file stands for. */
export function idOf(file: string): string {
  return basename(file).replace(/\.\w+$/, '')
}

function filesOf(folder: string, ending: string): string[] {
  if (!existsSync(folder)) return []
  const names = readdirSync(folder).filter((name) => name.endsWith(ending) && !name.endsWith('.d.ts'))
  return names.sort().map((name) => join(folder, name))
}

async function loadDriver(file: string): Promise<Driver> {
  let loaded: { driver?: unknown }
  try {
    loaded = await import(pathToFileURL(file).href)
  } catch (error) {
    const why = errorText(error, 160)
    throw new Problem('driver-invalid', `${file} does not load: ${why}.`)
  }
  const wrong = checkDriver(loaded.driver)
  if (wrong.length > 0) throw new Problem('driver-invalid', `${file} is not a driver: ${wrong.slice(0, 3).join('; ')}.`)
  const driver = loaded.driver as Driver
  const name = idOf(file)
  if (driver.id !== name) throw new Problem('driver-invalid', `${file} holds the id "${driver.id}", not "${name}".`)
  return driver
}
