// A PDF onto the printer: by `lp`; on Windows opened, to be printed from there.
import { spawn } from 'node:child_process'
import { mkdtemp, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { asSentence, Problem } from '../errors.ts'

/**
 * Prints `pdf` under `name`; gives what became of it as a sentence. Throws a Problem where nothing prints here; `next` is what to
 * do then.
 */
export async function printPdf(name: string, pdf: Uint8Array, next: string): Promise<string> {
  if (process.platform !== 'win32') return `Printed: ${await sendToPrinter(name, pdf, next)}.`
  const path = join(await mkdtemp(join(tmpdir(), 'makebreak-print-')), `${name}.pdf`)
  await writeFile(path, pdf)
  spawn('explorer.exe', [path], { detached: true, stdio: 'ignore' }).unref()
  return `Opened, to be printed from there: ${path}`
}

/** What `lp` says of the request. */
function sendToPrinter(name: string, pdf: Uint8Array, next: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn('lp', ['-t', name], { stdio: ['pipe', 'pipe', 'pipe'] })
    let [out, wrong] = ['', '']
    child.stdout.on('data', (data) => {
      out += data
    })
    child.stderr.on('data', (data) => {
      wrong += data
    })
    child.on('error', (error: NodeJS.ErrnoException) => {
      const why = error.code === 'ENOENT' ? 'the command lp is missing' : error.message
      reject(new Problem('print-failed', `This computer cannot print: ${why}.`, next))
    })
    child.on('close', (status) => {
      const [line = ''] = (status === 0 ? out : wrong).trim().split('\n')
      if (status === 0) return resolve(line || 'lp took it')
      reject(new Problem('print-failed', asSentence(`lp did not print: ${line || `status ${status}`}`), next))
    })
    // A printer that is not there closes the pipe early; `close` says why.
    child.stdin.on('error', () => {})
    child.stdin.end(pdf)
  })
}
