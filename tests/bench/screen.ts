// `npm run bench:screen -- [minutes] [columns] [rows]`: what the live screen costs, two streams at 100 lines/s each: share of a core and memory, minute by minute; exit status 1 when a bar is missed.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { programPath } from '../harness/run-program.ts'
import { startTerminal } from '../harness/terminal.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'
import { fastPart, suctionPa } from './fast-bench.ts'

const [minutes = 10, columns = 140, rows = 45] = process.argv.slice(2).map(Number)
const shareBar = 0.16
const residentBarMB = 250
/** Growth of the resident memory that still counts as flat: the least of the second half against the least of the first, for between two collections it swells. */
const growthBar = 1.25

const folder = mkdtempSync(join(tmpdir(), 'bench-screen-'))
const pressure = createVirtualSerial(join(folder, 'pressure'))
const contact = createVirtualSerial(join(folder, 'contact'))
pressure.plug()
contact.plug()

const port = (path: string) => ({ path, baudRate: 115_200 })
const rig = {
  name: 'fast bench',
  manometer: {
    driver: 'ascii-line',
    port: port(pressure.path),
    suctionSign: -1,
    accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: 250, unit: 'Pa' } },
    digit: { value: 0.01, unit: 'Pa' },
  },
  meter: { driver: 'ascii-line', port: port(contact.path), pair: 'com-no' },
}
writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
writeFileSync(join(folder, 'part.json'), JSON.stringify(fastPart))

const home = join(folder, 'home')
mkdirSync(home)
const terminal = startTerminal(
  [process.execPath, programPath, 'run', '--rig', 'rig.json', '--part', 'part.json', '--data-dir', 'out'],
  { folder, columns, rows, environment: { HOME: home, XDG_CONFIG_HOME: home, XDG_DATA_HOME: home } },
)

let actuated = false
let sent = 0
const startMs = performance.now()
const feed = setInterval(() => {
  for (; sent < (performance.now() - startMs) / 10; sent++) {
    const pa = suctionPa(sent / 100)
    actuated = actuated ? pa > 47 : pa >= 62
    pressure.write(`${(-pa + 0.02 * Math.sin(7.3 * sent)).toFixed(2)} Pa\r\n`)
    contact.write(actuated ? '0.31 ohm\r\n' : 'OL ohm\r\n')
  }
}, 5)

/** CPU seconds (all threads) and resident bytes of the screen's own process; the one that owns the ports is another. */
function used(): { cpuS: number; residentMB: number } {
  const stat = readFileSync(`/proc/${terminal.pid}/stat`, 'utf8')
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
  const status = readFileSync(`/proc/${terminal.pid}/status`, 'utf8')
  return {
    // Fields 14 and 15 of proc(5), in hundredths of a second.
    cpuS: (Number(fields[11]) + Number(fields[12])) / 100,
    residentMB: (Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) * 1024) / 1e6,
  }
}

const resident: number[] = []
let mostMB = 0
try {
  await terminal.see('Enter')
  terminal.key('\r')
  await terminal.until(() => /manometer ● open .*9\d|manometer ● open .*10\d/.test(terminal.screen()), 'both streams')
  let before = used()
  let total = 0
  console.log(`${columns} × ${rows}, two streams at 100 lines/s, drawn at 10 Hz`)
  for (let minute = 1; minute <= minutes; minute++) {
    const fromMs = performance.now()
    let least = Number.POSITIVE_INFINITY
    for (let second = 0; second < 60; second++) {
      await wait(1000)
      const { residentMB } = used()
      least = Math.min(least, residentMB)
      mostMB = Math.max(mostMB, residentMB)
    }
    const now = used()
    const share = (now.cpuS - before.cpuS) / ((performance.now() - fromMs) / 1000)
    before = now
    total += share
    resident.push(least)
    console.log(`minute ${minute}: ${(100 * share).toFixed(1)} % of a core, at least ${least.toFixed(0)} MB resident`)
  }
  const mean = total / minutes
  // The first minute is still filling the picture.
  const half = Math.max(1, Math.ceil(resident.length / 2))
  const growth = Math.min(...resident.slice(-half)) / Math.min(...resident.slice(Math.min(1, half - 1), half))
  console.log(
    `mean ${(100 * mean).toFixed(1)} % of a core (bar ${100 * shareBar} %); memory at most ${mostMB.toFixed(0)} MB (bar ${residentBarMB} MB), × ${growth.toFixed(2)} in the second half (bar × ${growthBar})`,
  )
  if (mean > shareBar || growth > growthBar || mostMB > residentBarMB) process.exitCode = 1
  console.log(terminal.screen())
} finally {
  clearInterval(feed)
  terminal.kill('SIGTERM')
  await terminal.until(() => terminal.exit(), 'the program to end')
  pressure.unplug()
  contact.unplug()
  rmSync(folder, { recursive: true, force: true })
}
process.exit()
