// A path into a folder that is there, or one sentence why it cannot be.
import { mkdir } from 'node:fs/promises'
import { folderProblem } from '../errors.ts'

/** Makes `folder` and those above it where they are missing. `what` names it in the sentence, such as "The folder x". */
export async function makeFolder(folder: string, what = `The folder ${folder}`): Promise<void> {
  try {
    await mkdir(folder, { recursive: true }).catch((error: NodeJS.ErrnoException) => {
      // Node says ENOENT of a whole path on a disk that may only be read; of the folder alone the system says why.
      if (error.code === 'ENOENT') return mkdir(folder)
      throw error
    })
  } catch (error) {
    throw folderProblem(error, `${what} cannot be made`, folder)
  }
}
