// The name of a recording and what is written of it into the name of the file; a simulated one says so, and two of one name are told apart.
import { basename } from 'node:path'

/** `what`: such as `report`; `names`: those given in this folder before, to which this one is added. */
export function paperName(file: string, simulated: boolean, what: string, names: Set<string>): string {
  const bare = `${basename(file).replace(/\.run$/, '')}${simulated ? '-simulated' : ''}-${what}`
  let name = bare
  for (let i = 2; names.has(name); i++) name = `${bare}-${i}`
  names.add(name)
  return name
}
