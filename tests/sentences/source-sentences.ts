// The sources on disk into all sentences of the program, in the order of their areas.
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { readSentences, type Sentence } from './read-sentences.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))

/** `comments`: the sentences of the comments in place of those that are shown. */
export function sourceSentences(comments = false): (Sentence & { path: string })[] {
  const paths = ['src', 'drivers'].flatMap((folder) =>
    readdirSync(`${root}/${folder}`, { recursive: true, encoding: 'utf8' }).map((path) => `${folder}/${path}`),
  )
  const folderOf = (path: string) => path.slice(0, path.lastIndexOf('/'))
  return paths
    .filter((path) => /\.tsx?$/.test(path))
    .sort((a, b) => folderOf(a).localeCompare(folderOf(b)) || a.localeCompare(b))
    .flatMap((path) =>
      readSentences(path, readFileSync(`${root}/${path}`, 'utf8'), comments).map((s) => ({ ...s, path })),
    )
}
