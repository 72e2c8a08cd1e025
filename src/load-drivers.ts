// Files of drivers/ (beside source or dist) and of a user's own folder into the drivers by id.
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { errorText } from './core/text/error-text.ts'
import { checkDriver, type Driver, type DriverFacts } from './driver.ts'
import { Problem } from './errors.ts'
import { typedDriver } from './typed-driver.ts'

const ownFolder = fileURLToPath(new URL('../drivers/', import.meta.url))
const ownEnding = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'

/** A file that states a driver loads at once (shop rule). */
const loadLimitS = 5

/** Digests of the user's own files, by the driver that each of them gave. */
const digests = new WeakMap<DriverFacts, string>()

/** The sha256 (hex) of the file that a user's own driver came from; null for one of the project's. */
export function digestOf(driver: DriverFacts): string | null {
  return digests.get(driver) ?? null
}

/** Keeps the digest of a driver that was loaded in another thread. */
export function keepDigest(driver: DriverFacts, sha256: string): void {
  digests.set(driver, sha256)
}

/**
 * The project's drivers and those of `userFolder` (self-contained `.mjs` files; null or an absent folder: none), by id.
 * Throws the Problem `driver-invalid` for a file that does not load, is no driver, or takes an id that is already there.
 * `onLoad` hears of each of the user's own before its code runs.
 */
export async function loadDrivers(
  userFolder: string | null = null,
  onLoad: (file: string) => void = () => {},
): Promise<ReadonlyMap<string, Driver>> {
  const own = filesOf(ownFolder, ownEnding)
  const drivers = new Map<string, Driver>()
  const add = (driver: Driver, file: string) => {
    if (drivers.has(driver.id))
      throw new Problem('driver-invalid', `${file}: the driver id "${driver.id}" is already taken.`)
    drivers.set(driver.id, driver)
  }
  for (const file of own) add(await loadDriver(file), file)
  // It has no file: nothing is to be read.
  add(typedDriver, typedDriver.id)
  for (const file of userFolder === null ? [] : filesOf(userFolder, '.mjs')) {
    onLoad(file)
    add(await loadOwnDriver(file), file)
  }
  return drivers
}

/** Ids of the project's own drivers: no other driver may take one. */
export function ownDriverIds(): string[] {
  return [...filesOf(ownFolder, ownEnding).map(idOf), typedDriver.id]
}

/** Ids of the user's own drivers, by the names of their files: none of them is loaded. */
export function userDriverIds(userFolder: string): string[] {
  return filesOf(userFolder, '.mjs').map(idOf)
}

/** The id that a driver's file has by its name. */
export function idOf(file: string): string {
  return basename(file).replace(/\.\w+$/, '')
}

function filesOf(folder: string, ending: string): string[] {
  if (!existsSync(folder)) return []
  const names = readdirSync(folder).filter((name) => name.endsWith(ending) && !name.endsWith('.d.ts'))
  return names.sort().map((name) => join(folder, name))
}

/** A user's driver, its digest kept. A file that has changed is another module, so that digest and code belong together. */
async function loadOwnDriver(file: string): Promise<Driver> {
  const sha256 = createHash('sha256').update(readFileSync(file)).digest('hex')
  let timer: NodeJS.Timeout | undefined
  const late = new Promise<never>((_, refuse) => {
    const problem = new Problem(
      'driver-invalid',
      `${file} does not load: its import has not ended after ${loadLimitS} s.`,
    )
    timer = setTimeout(() => refuse(problem), loadLimitS * 1000)
  })
  try {
    const driver = await Promise.race([loadDriver(file, `?sha256=${sha256}`), late])
    keepDigest(driver, sha256)
    return driver
  } finally {
    clearTimeout(timer)
  }
}

async function loadDriver(file: string, query = ''): Promise<Driver> {
  let loaded: { driver?: unknown }
  try {
    loaded = await import(pathToFileURL(file).href + query)
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
