// Prints every sentence of the program, area by area, each with its file and line: `npm run sentences`, or with `-- --comments` those of the comments.
import { sourceSentences } from './source-sentences.ts'

const comments = process.argv.includes('--comments')
let area = ''
for (const { path, line, text } of sourceSentences(comments)) {
  const here = path.split('/').slice(0, -1).join('/')
  if (here !== area) console.log(`\n## ${here}\n`)
  area = here
  console.log(`${path}:${line}  ${text.replaceAll('\n', ' ⏎ ')}`)
}
