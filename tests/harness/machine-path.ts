// The search path of whoever started the tests: npm puts the project's own programs before it, the pinned Node among them.
import { delimiter } from 'node:path'

/** With it, `node` and `npm` are those of this machine. */
export const machinePath = (process.env['PATH'] ?? '')
  .split(delimiter)
  .filter((folder) => !folder.includes('node_modules'))
  .join(delimiter)
