// A file that a person wrote into its text; what is in the way into one sentence.
import { readFile, stat } from 'node:fs/promises'
import { Problem } from '../errors.ts'

const maxFileBytes = 1_000_000

/** The text of the `what` file at `path`, such as `part`. */
export async function readTextFile(what: string, path: string): Promise<string> {
  try {
    const found = await stat(path)
    if (!found.isFile()) throw new Problem('file-unreadable', `${path} is not a file, so it cannot be a ${what} file.`)
    if (found.size > maxFileBytes)
      throw new Problem(
        'file-unreadable',
        `${path} has ${found.size} bytes; a ${what} file has at most ${maxFileBytes}.`,
      )
    return new TextDecoder('utf-8', { fatal: true }).decode(await readFile(path))
  } catch (error) {
    if (error instanceof Problem) throw error
    const { code, message } = error as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') throw new Problem('file-missing', `Found no ${what} file ${path}.`)
    if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA') throw new Problem('not-json', `${path} is not UTF-8 text.`)
    throw new Problem('file-unreadable', `${path} cannot be read (${code ?? message}).`)
  }
}
