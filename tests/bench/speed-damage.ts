// Recordings with a million lines that are damaged, or whose ends a copy as text has changed, into the time that `check` takes of them.
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { checkFile } from '../../src/commands/check.ts'

const lines = 1_000_000
const barS = 10
const good = readFileSync(fileURLToPath(new URL('../../recordings/good-1.run', import.meta.url)), 'latin1').split(
  /(?<=\n)/,
)

/** Each with the lines of a recording in which the damage is, and after how many of them it is checked. */
const cases: { name: string; text: string; times: number; after: string }[] = [
  { name: 'blank lines', text: '\n'.repeat(1000), times: lines / 1000, after: good.slice(3).join('') },
  { name: 'lines, every second one damaged', text: `${good[2]}x\n`.repeat(1000), times: lines / 1000, after: '' },
  {
    name: 'lines that end in CRLF',
    text: good.join('').replaceAll('\n', '\r\n'),
    times: Math.ceil(lines / good.length),
    after: '',
  },
]

/** Prints a row for each; whether all are checked within the bar. */
export async function damageIsCheckedInTime(): Promise<boolean> {
  const folder = mkdtempSync(join(tmpdir(), 'speed-'))
  let met = true
  try {
    for (const { name, text, times, after } of cases) {
      const path = join(folder, 'damaged.run')
      const file = openSync(path, 'w')
      if (!text.includes('\r')) writeSync(file, good.slice(0, 3).join(''))
      for (let i = 0; i < times; i++) writeSync(file, text, null, 'latin1')
      writeSync(file, after, null, 'latin1')
      closeSync(file)
      const fromMs = performance.now()
      const { lines: told } = await checkFile(path)
      const s = (performance.now() - fromMs) / 1000
      if (told.length !== 1) throw new Error(`${name}: the file was not checked`)
      met &&= s < barS
      console.log(`${s < barS ? 'met   ' : 'MISSED'} a million ${name}: checked in ${s.toFixed(1)} s, bar ${barS} s`)
    }
  } finally {
    rmSync(folder, { recursive: true })
  }
  return met
}
