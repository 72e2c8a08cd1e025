// The recordings in recordings/ into their results, by the same command that a user types: `replay --json`, without `file`.
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Result } from '../../src/core/model/result.ts'
import { runProgram } from '../harness/run-program.ts'

export const goldenFolder = fileURLToPath(new URL('../../recordings', import.meta.url))

/** The names of all golden recordings, without `.run`, in order. */
export const goldenNames: readonly string[] = readdirSync(goldenFolder)
  .filter((name) => name.endsWith('.run'))
  .map((name) => name.slice(0, -'.run'.length))
  .sort()

/** The result of each golden recording; the program's own user folders are made in `folder`. */
export async function replayGolden(folder: string): Promise<Map<string, Result>> {
  const files = goldenNames.map((name) => join(goldenFolder, `${name}.run`))
  const { out, err } = await runProgram(folder, ['replay', ...files, '--json'])
  const lines = out.trimEnd().split('\n')
  if (err !== '' || lines.length !== files.length) throw new Error(`replay of recordings/ said: ${err}${out}`)
  return new Map(
    lines.map((line, i) => {
      const { file: _, ...result } = JSON.parse(line)
      return [goldenNames[i]!, result]
    }),
  )
}
