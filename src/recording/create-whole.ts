// A path and a text into a file that is there whole or not at all, and never in place of another.
import { constants, copyFileSync, linkSync, rmSync, writeFileSync } from 'node:fs'

/** Creates the file, readable by its owner alone; false where `path` is taken. Throws what the system said of anything else. */
export function createWhole(path: string, text: string): boolean {
  const whole = `${path}.${process.pid}.new`
  try {
    writeFileSync(whole, text, { mode: 0o600, flush: true })
    try {
      linkSync(whole, path)
    } catch (error) {
      if (isTaken(error)) throw error
      // Some file systems know no second name.
      copyFileSync(whole, path, constants.COPYFILE_EXCL)
    }
    return true
  } catch (error) {
    if (isTaken(error)) return false
    throw error
  } finally {
    rmSync(whole, { force: true })
  }
}

const isTaken = (error: unknown) => (error as NodeJS.ErrnoException).code === 'EEXIST'
