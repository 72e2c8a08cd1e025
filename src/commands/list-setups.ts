// A folder of parts or rigs into their names.
import { readdir } from 'node:fs/promises'

/** Names of the parts or rigs in `folder`, sorted; none where the folder does not exist. */
export async function listSetups(folder: string): Promise<string[]> {
  const files = await readdir(folder).catch(() => [])
  return files
    .filter((file) => file.endsWith('.json'))
    .map((file) => file.slice(0, -'.json'.length))
    .sort()
}
