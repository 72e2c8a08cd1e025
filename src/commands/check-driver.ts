// `driver check`: a user's own driver against the contract, one line a case, whatever its code does.
import { existsSync } from 'node:fs'
import { resolve } from 'node:path'
import { withoutTranscript } from '../contract/driver-contract.ts'
import type { CheckOrder, CheckReport } from '../contract/messages.ts'
import { type Transcript, transcriptsSchema } from '../contract/transcript.ts'
import { issueLines } from '../core/model/schema.ts'
import { exitCodes, Problem } from '../errors.ts'
import { idOf, ownDriverIds } from '../load-drivers.ts'
import { watchWorker } from '../watched-worker.ts'
import { printWords } from './print.ts'
import { readJsonFile } from './read-json-file.ts'
import { readTextFile } from './read-text-file.ts'

// Source runs as .ts, the build as .mjs: the thread is of the same kind as this one.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const threadFile = new URL(`../contract/main${extension}`, import.meta.url)

/** Prints one line a case. Exit status: 0 all pass, 65 one fails; a driver that ends or hangs the check is a Problem. */
export async function checkDriverFile(file: string): Promise<number> {
  const source = await readTextFile('driver', file)
  if (!file.endsWith('.mjs'))
    throw new Problem('driver-invalid', `${file} does not end in .mjs, as a driver of your own must.`)
  const transcripts = await readTranscripts(file.replace(/\.mjs$/, '.transcript.json'))
  const order: CheckOrder = { file: resolve(file), source, name: idOf(file), taken: ownDriverIds(), transcripts }
  let during = 'starting'
  let [passed, failed] = [0, 0]
  const thread = watchWorker(threadFile, {
    who: 'The driver',
    data: order,
    onMessage(message) {
      const report = message as CheckReport
      if (report.type === 'begins') during = report.name
      else if (report.type === 'over') thread.stop()
      else if (report.fault === null) {
        passed++
        printWords(`pass: ${report.name}`)
      } else {
        failed++
        printWords(`fail: ${report.name}: ${report.fault.what}. ${report.fault.next}`)
      }
    },
  })
  const why = await thread.ended
  if (why !== null) throw new Problem('driver-invalid', `${file}, case "${during}": ${why}`)
  if (transcripts.length === 0) printWords(`left out: ${withoutTranscript}`)
  printWords(`${file}: ${passed} of ${passed + failed} cases pass.`)
  return failed === 0 ? 0 : exitCodes.unreadable
}

/** What the file beside the driver states; nothing where there is none. */
async function readTranscripts(file: string): Promise<readonly Transcript[]> {
  if (!existsSync(file)) return []
  const parsed = transcriptsSchema.safeParse(await readJsonFile('transcript', file))
  if (parsed.success) return parsed.data
  throw new Problem('transcript-invalid', `${file}: ${issueLines(parsed.error).join('; ')}.`)
}
