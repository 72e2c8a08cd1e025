// The name of a part or a rig in the user's folder into what its form begins with: the text of its file, to know it again, and its object.
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { Problem } from '../../errors.ts'
import type { Json } from '../../terminal/screens/form-json.ts'
import type { Mistake } from '../../terminal/screens/form-spec.ts'
import { findJsonFault } from '../find-json-fault.ts'
import { listSetups } from '../list-setups.ts'
import { nameMistake } from '../save-setup.ts'

export type OpenSetup = {
  base: Json
  /** Null for a new one. */
  before: string | null
  /** What is wrong with the name that a new one is to have. */
  namedWrong: (name: string) => Mistake[]
}

/** What is in NAME.json of `folder`; empty for `name` null, a new one. */
export async function openSetup(
  kind: 'part' | 'rig' | 'settings',
  folder: string,
  name: string | null,
): Promise<OpenSetup> {
  if (name !== null) {
    const before = await readFile(join(folder, `${name}.json`), 'utf8').catch((error: NodeJS.ErrnoException) => {
      // Settings that were never made are made as they are saved.
      if (kind === 'settings' && error.code === 'ENOENT') return null
      throw error
    })
    if (before === null) return { base: {}, before, namedWrong: () => [] }
    return { base: objectIn(before, `${name}.json`), before, namedWrong: () => [] }
  }
  const taken = await listSetups(folder)
  const namedWrong = (given: string): Mistake[] => {
    const text = nameMistake(given) ?? (taken.includes(given) ? `There is a ${kind} ${given} already.` : null)
    return text === null ? [] : [{ field: 'file', text }]
  }
  return { base: {}, before: null, namedWrong }
}

/** A form shows every field, so a file that has one twice is for an editor: one of the two would be lost. */
function objectIn(text: string, file: string): Json {
  const fault = findJsonFault(text)
  if (fault) throw new Problem('not-json', `${file}, line ${fault.line}, column ${fault.column}: ${fault.what}.`)
  const json: unknown = JSON.parse(text)
  if (json !== null && typeof json === 'object' && !Array.isArray(json)) return json as Json
  throw new Problem('not-json', `${file} holds ${text.trim().slice(0, 20)}; it must be an object { ... }.`)
}
