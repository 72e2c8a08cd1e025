// A part or a rig into its file in the user's folder: whole or not at all, never outside that folder, never over what somebody else wrote.
import { constants } from 'node:fs'
import { copyFile, link, mkdir, open, readFile, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { folderProblem, Problem } from '../errors.ts'

// Device names that Windows reserves, by its "Naming Files, Paths, and Namespaces".
const reserved = /^(con|prn|aux|nul|com\d|lpt\d)$/i
const plain = /^[A-Za-z0-9_][A-Za-z0-9_-]{0,59}$/

/** The name of the one file of settings, which lies beside the folders of parts and rigs. */
export const shopFile = 'shop'

/** What is wrong with `name` as the name of a set-up, as a sentence; null where it can be one. */
export function nameMistake(name: string): string | null {
  if (name === '') return 'The name of the file is empty; it must be letters, digits, _ and -, at most 60 of them.'
  if (plain.test(name) && !reserved.test(name)) return null
  return `The name "${name}" cannot be a file's; it must be letters, digits, _ and -, at most 60 of them.`
}

/** The file's text; what is read again before it is replaced. */
export function setupText(json: object): string {
  return `${JSON.stringify(json, null, 2)}\n`
}

/**
 * Writes NAME.json in `folder`, which is made where it is not there, and gives its path. `before` is the text that the
 * file held when it was opened, null for a new one: a file that holds something else by now is left as it is, with a
 * Problem. What is at the path is at all times the old text or the new one, whole.
 */
export async function saveSetup(folder: string, name: string, json: object, before: string | null): Promise<string> {
  const mistake = nameMistake(name)
  if (mistake !== null) throw new Problem('usage', mistake)
  const path = join(folder, `${name}.json`)
  const part = join(folder, `.${name}.${process.pid}.part`)
  try {
    await mkdir(folder, { recursive: true })
    await writeSynced(part, setupText(json))
    if (before === null) {
      if (!(await linkNew(part, path))) throw new Problem('setup-changed', `${name}.json is there already.`)
    } else {
      if ((await readFile(path, 'utf8').catch(() => null)) !== before)
        throw new Problem('setup-changed', `${name}.json was changed by somebody else since it was opened.`)
      await rename(part, path)
    }
    return path
  } catch (error) {
    if (error instanceof Problem) throw error
    throw folderProblem(error, `${path} cannot be written`, path)
  } finally {
    await rm(part, { force: true }).catch(() => {})
  }
}

async function writeSynced(path: string, text: string): Promise<void> {
  const file = await open(path, 'w')
  try {
    await file.writeFile(text)
    await file.sync()
  } finally {
    await file.close()
  }
}

/** Whether `from` could be given the name `to`, which must be free; some file systems know no second name, there it is copied. */
async function linkNew(from: string, to: string): Promise<boolean> {
  const isTaken = (error: unknown) => (error as NodeJS.ErrnoException).code === 'EEXIST'
  try {
    await link(from, to).catch((error) => {
      if (isTaken(error)) throw error
      return copyFile(from, to, constants.COPYFILE_EXCL)
    })
    return true
  } catch (error) {
    if (isTaken(error)) return false
    throw error
  }
}
