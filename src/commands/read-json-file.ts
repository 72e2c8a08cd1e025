// A JSON file that a person wrote into its value; its first fault into one sentence with its place.
import { Problem } from '../errors.ts'
import { findJsonFault } from './find-json-fault.ts'
import { readTextFile } from './read-text-file.ts'

/** The value in the `what` file at `path`, such as `part`. */
export async function readJsonFile(what: string, path: string): Promise<unknown> {
  const text = await readTextFile(what, path)
  if (text.trim() === '') throw new Problem('not-json', `${path} is empty; a ${what} file holds one JSON value.`)
  const fault = findJsonFault(text)
  if (fault) throw new Problem('not-json', `${path}, line ${fault.line}, column ${fault.column}: ${fault.what}.`)
  return JSON.parse(text)
}
