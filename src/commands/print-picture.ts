// Drawings onto the printer: as PDF to `lp`; on Windows opened, to be printed from there.
import { spawn } from 'node:child_process'
import { mkdtemp, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { asSentence, Problem } from '../errors.ts'
import { writePdf } from '../report/write-pdf.ts'

/** Prints the drawings of `name`; gives what became of them as a sentence. Throws a Problem where nothing prints here. */
export async function printPicture(name: string, drawings: readonly string[]): Promise<string> {
  const pdf = await writePdf(drawings, name)
  if (process.platform !== 'win32') return `Printed: ${await sendToPrinter(name, pdf)}.`
  const path = join(await mkdtemp(join(tmpdir(), 'makebreak-print-')), `${name}.pdf`)
  await writeFile(path, pdf)
  spawn('explorer.exe', [path], { detached: true, stdio: 'ignore' }).unref()
  return `Opened, to be printed from there: ${path}`
}

/** What `lp` says of the request. */
function sendToPrinter(name: string, pdf: Buffer): Promise<string> {
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
      reject(new Problem('print-failed', `This computer cannot print: ${why}.`))
    })
    child.on('close', (status) => {
      const [line = ''] = (status === 0 ? out : wrong).trim().split('\n')
      if (status === 0) return resolve(line || 'lp took it')
      reject(new Problem('print-failed', asSentence(`lp did not print: ${line || `status ${status}`}`)))
    })
    // A printer that is not there closes the pipe early; `close` says why.
    child.stdin.on('error', () => {})
    child.stdin.end(pdf)
  })
}
