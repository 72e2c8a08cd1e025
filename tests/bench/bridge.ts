// `npm run bench:bridge -- [minutes]`: a board's lines, 1 000 a second, through a live test: lines lost, and the share of a core that each process takes; exit status 1 when a bar is missed.
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { boardLine } from '../../src/simulation/board-line.ts'
import { programPath } from '../harness/run-program.ts'
import { startTerminal } from '../harness/terminal.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'
import { fastPart, suctionPa } from './fast-bench.ts'

const [minutes = 10] = process.argv.slice(2).map(Number)
const linesPerS = 1000
const shareBar = 0.35

const folder = mkdtempSync(join(tmpdir(), 'bench-bridge-'))
const board = createVirtualSerial(join(folder, 'board'))
board.plug()
const rig = {
  name: 'one board',
  bridge: {
    driver: 'bridge-line',
    port: { path: board.path, baudRate: 500_000 },
    suctionSign: -1,
    accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: 250, unit: 'Pa' } },
    digit: { value: 0.01, unit: 'Pa' },
    pair: 'com-no',
  },
}
writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
writeFileSync(join(folder, 'part.json'), JSON.stringify(fastPart))
const home = join(folder, 'home')
mkdirSync(home)
const terminal = startTerminal(
  [
    process.execPath,
    programPath,
    'run',
    '--rig',
    'rig.json',
    '--part',
    'part.json',
    '--purpose',
    'free',
    '--data-dir',
    'out',
  ],
  { folder, columns: 140, rows: 45, environment: { HOME: home, XDG_CONFIG_HOME: home, XDG_DATA_HOME: home } },
)

let actuated = false
let sent = 0
const startMs = performance.now()
const feed = setInterval(() => {
  let bytes = ''
  for (; sent < ((performance.now() - startMs) * linesPerS) / 1000; sent++) {
    const pa = suctionPa(sent / linesPerS)
    actuated = actuated ? pa > 47 : pa >= 62
    const shown = (-pa + 0.02 * Math.sin(7.3 * sent)).toFixed(2)
    bytes += boardLine({ skew: 5e-5, startUs: 1e6 }, (sent * 1e6) / linesPerS, shown, actuated)
  }
  board.write(bytes)
}, 5)

/** Processes of the program: the one on the terminal and those below it. */
function processesOf(pid: number): number[] {
  const children = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim()
  return [pid, ...children.split(' ').flatMap((child) => (child === '' ? [] : processesOf(Number(child))))]
}

/** CPU seconds of a process, all threads: fields 14 and 15 of proc(5), in hundredths of a second. */
function cpuS(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
  return (Number(fields[11]) + Number(fields[12])) / 100
}

/** Resident memory of the process on the terminal, in which the readings are worked out, MB. */
function residentMB(): number {
  return (Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${terminal.pid}/status`, 'utf8'))?.[1]) * 1024) / 1e6
}

/** Times of the board in the recording, in the order they were received; the last line may be under way. */
function recordedUs(): number[] {
  const [name] = readdirSync(join(folder, 'out'), { recursive: true, encoding: 'utf8' }).filter((n) =>
    n.endsWith('.run'),
  )
  const events = readFileSync(join(folder, 'out', name!), 'utf8')
    .split('\n')
    .slice(1, -1)
  const text = events.flatMap((line) => {
    const event = JSON.parse(line.slice(9))
    return event.type === 'rx' ? [event.text ?? Buffer.from(event.b64, 'base64').toString('latin1')] : []
  })
  return [...text.join('').matchAll(/MB1,(\d+),[^*\n]*\*[0-9A-F]{4}\r\n/g)].map(([, us]) => Number(us))
}

try {
  // Not guided, so that it does not end by itself.
  await terminal.until(() => /bridge ● open/.test(terminal.screen()), 'the stream')
  await wait(5000)
  const pids = processesOf(terminal.pid)
  const before = pids.map(cpuS)
  let [beforeS, beforeMs] = [before, performance.now()]
  const firstMs = beforeMs
  console.log(`${pids.length} processes; ${linesPerS} lines/s`)
  for (let minute = 1; minute <= minutes; minute++) {
    await wait(60_000)
    if (pids.some((pid) => !existsSync(`/proc/${pid}`)))
      throw new Error(`MISSED: the program ended within minute ${minute}`)
    const now = pids.map(cpuS)
    const lastsS = (performance.now() - beforeMs) / 1000
    const shares = now.map((s, i) => `${((100 * (s - beforeS[i]!)) / lastsS).toFixed(1)} %`)
    console.log(`minute ${minute}: ${shares.join(' + ')} of a core, ${residentMB().toFixed(0)} MB resident`)
    ;[beforeS, beforeMs] = [now, performance.now()]
  }
  const usedS = pids.reduce((sum, pid, i) => sum + cpuS(pid) - before[i]!, 0)
  const share = usedS / ((performance.now() - firstMs) / 1000)
  clearInterval(feed)
  await wait(5000)
  const gotUs = recordedUs()
  // What came before the port was open is nobody's loss: from the first line on none may be missing.
  const due = Math.round((gotUs.at(-1)! - gotUs[0]!) / (1e3 * (1 + 5e-5))) + 1
  const lost = due - gotUs.length + (sent - 1 - Math.round((gotUs.at(-1)! - 1e6) / (1e3 * (1 + 5e-5))))
  console.log(`${gotUs.length} lines recorded, ${lost} lost (bar 0)`)
  console.log(`mean ${(100 * share).toFixed(1)} % of a core, all processes (bar ${100 * shareBar} %)`)
  if (lost !== 0 || share > shareBar) process.exitCode = 1
} catch (error) {
  console.log(`${terminal.screen().trim()}\n${(error as Error).message}`)
  process.exitCode = 1
} finally {
  clearInterval(feed)
  terminal.kill('SIGTERM')
  await terminal.until(() => terminal.exit(), 'the program to end')
  board.unplug()
  rmSync(folder, { recursive: true, force: true })
}
process.exit()
