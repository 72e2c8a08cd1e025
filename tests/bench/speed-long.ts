// Recordings of ever more lines into what a line costs in a replay of the built program, and how much memory the program takes.
import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { encodeLine } from '../../src/recording/format.ts'
import { sampleStart } from '../harness/sample-start.ts'

const bars = { costOfLine: 1.5, peakMB: 300 }
/** Lines of each recording; below `usual` the start of the program tells more than its lines. */
const [few, usual, many, most] = [10_000, 100_000, 1_000_000, 3_000_000]
const program = fileURLToPath(new URL('../../dist/src/main.js', import.meta.url))
/** Runs in the program before its own code: at its end it says what it took. */
const meter = `data:text/javascript,process.on('exit',()=>process.stderr.write(JSON.stringify(process.resourceUsage())+'\\n'))`

/** Five strokes of 30 s up and 30 s back with rests of 20 s, then a bench that is left alone: lines, not strokes, become more. */
function suctionPa(tS: number): number {
  return tS > 400 ? 0 : Math.max(0, 78 - 2.6 * Math.abs((tS % 80) - 50))
}

function write(path: string, lines: number): void {
  const file = openSync(path, 'w')
  writeSync(file, encodeLine({ type: 'start', format: 1, ...sampleStart }))
  const block: Buffer[] = []
  for (let i = 0; i < lines; i++) {
    const shown = (-suctionPa(i / 40) + 0.02 * Math.sin(7.3 * i)).toFixed(2)
    const heard = i % 2 === 0 ? { port: 'manometer', text: `${shown} Pa\r\n` } : { port: 'meter', text: 'OL ohm\r\n' }
    block.push(encodeLine({ type: 'rx', t: i * 25_000, ...heard }))
    if (block.length === 10_000 || i === lines - 1) writeSync(file, Buffer.concat(block.splice(0)))
  }
  closeSync(file)
}

function replayed(path: string): { cpuUs: number; peakMB: number } {
  const args = ['--import', meter, program, 'replay', '--json', path]
  const { stdout, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' })
  if (!stdout.includes('"verdict":')) throw new Error(`the recording was not replayed: ${stdout}${stderr}`)
  const { userCPUTime, systemCPUTime, maxRSS } = JSON.parse(stderr.trim().split('\n').at(-1) ?? '')
  return { cpuUs: userCPUTime + systemCPUTime, peakMB: maxRSS / 1024 }
}

/** Prints the rows; whether a line costs as little in the longest recording as it should, and the memory is within its bar. */
export function longRunsAreLinear(): boolean {
  const folder = mkdtempSync(join(tmpdir(), 'speed-'))
  try {
    const path = join(folder, 'long.run')
    const rows = [few, usual, many, most].map((lines) => {
      write(path, lines)
      const { cpuUs, peakMB } = replayed(path)
      return { lines, perLineUs: cpuUs / lines, peakMB }
    })
    const of = (lines: number) => rows.find((row) => row.lines === lines)!
    const cost = of(most).perLineUs / of(usual).perLineUs
    const isLinear = cost <= bars.costOfLine
    const isSmall = of(many).peakMB <= bars.peakMB
    const told = rows.map((r) => `${r.lines} lines ${r.perLineUs.toFixed(1)} µs a line, ${r.peakMB.toFixed(0)} MB`)
    console.log(`       replay of ${told.join('; ')}`)
    console.log(
      `${isLinear ? 'met   ' : 'MISSED'} a line of ${most}: ${cost.toFixed(2)} × one of ${usual}, bar ${bars.costOfLine}`,
    )
    console.log(
      `${isSmall ? 'met   ' : 'MISSED'} ${many} lines: ${of(many).peakMB.toFixed(0)} MB at most, bar ${bars.peakMB}`,
    )
    return isLinear && isSmall
  } finally {
    rmSync(folder, { recursive: true })
  }
}
