// A driver of a user's own, good or bad, into a folder that holds that user's folders with it in them.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { ownDriver } from './own-driver.ts'
import { environmentIn } from './run-program.ts'

export type Parts = NonNullable<Parameters<typeof ownDriver>[1]>

/** The folder below `root`, named as the test names what the driver does, and the driver's id. */
export function driverFolder(root: string, name: string, parts: Parts): { folder: string; id: string } {
  const id = name.replaceAll(/[ ,]+/g, '-').toLowerCase()
  const folder = join(root, id)
  const { XDG_CONFIG_HOME: config = '' } = environmentIn(folder)
  const drivers = join(config, 'makebreak', 'drivers')
  mkdirSync(drivers, { recursive: true })
  writeFileSync(join(drivers, `${id}.mjs`), ownDriver(id, parts))
  return { folder, id }
}
