// `ports`: the serial ports of this machine, whether they may be opened, and what they send.
import { Problem } from '../errors.ts'
import { userFolders } from '../user-folders.ts'
import { describePorts, type FoundPort, findPorts } from './find-ports.ts'
import { listenPort } from './listen-port.ts'
import { loadReaders, type Readers } from './load-readers.ts'
import { print } from './print.ts'

export type PortsOptions = { listen?: number; baud: string; ask?: true }

// The rates that bench instruments are found at: common practice, no source.
const usualRates = [9600, 19_200, 38_400, 57_600, 115_200, 4800, 2400, 1200]
const sampleChars = 60

/** Prints the ports found, or those that `paths` name, and, where asked, what each sends; the exit status is 0 whatever is found. */
export async function showPorts(paths: readonly string[], options: PortsOptions): Promise<number> {
  const rates = ratesOf(options.baud)
  const { ports, lister } = paths.length > 0 ? await describePorts(paths) : await findPorts()
  if (lister !== null) print(`Could not list ports (${lister}); searched /dev instead.`)
  if (ports.length === 0)
    print('No serial port found. Plug the adapter in; a port with another name can be typed into the rig file.')
  const readers = options.listen === undefined ? null : await loadReaders(userFolders().drivers)
  const widest = Math.max(...ports.map((port) => port.path.length))
  try {
    for (const port of ports) {
      print(`${port.path.padEnd(widest)}  ${port.hint ?? (port.description || 'no description')}`)
      if (options.listen === undefined || readers === null || port.hint !== null) continue
      for (const rate of rates) await showTraffic(port, rate, options.listen, options.ask === true, readers)
    }
    return 0
  } finally {
    readers?.stop()
  }
}

function ratesOf(text: string): number[] {
  if (text === 'all') return usualRates
  const rate = Number(text)
  if (Number.isInteger(rate) && rate >= 50 && rate <= 4_000_000) return [rate]
  throw new Problem('usage', `--baud is "${text}"; it must be all, or a whole number from 50 to 4000000.`)
}

async function showTraffic(
  port: FoundPort,
  rate: number,
  seconds: number,
  asks: boolean,
  { drivers, read }: Readers,
): Promise<void> {
  const heard = await listenPort(port.path, rate, seconds, asks ? drivers : []).catch((error) => {
    if (!(error instanceof Problem)) throw error
    print(`  ${rate} baud: ${error.message} ${error.next}`)
    return null
  })
  if (heard === null) return
  const { text, asked } = heard
  const answer = asked === null ? '' : `, asked by ${asked.id}`
  if (text === '') return print(`  ${rate} baud: silent for ${seconds} s, with DTR and RTS on and off`)
  print(`  ${rate} baud: ${text.length} bytes in ${seconds} s${answer}: ${JSON.stringify(text.slice(0, sampleChars))}`)
  const lines = await read(text, asked)
  for (const line of lines) print(`    ${line}`)
  if (lines.length === 0) print('    no driver makes sense of it: try another rate, or another unit in its options')
}
