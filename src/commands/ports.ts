// `ports`: the serial ports of this machine, whether they may be opened, and what they send.
import { bindDecode, type Driver, type Role, resolveOptions } from '../driver.ts'
import { Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'
import { describePorts, type FoundPort, findPorts } from './find-ports.ts'
import { type Asked, listenPort } from './listen-port.ts'
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
  const drivers = options.listen === undefined ? [] : [...(await loadDrivers(userFolders().drivers)).values()]
  const widest = Math.max(...ports.map((port) => port.path.length))
  for (const port of ports) {
    print(`${port.path.padEnd(widest)}  ${port.hint ?? (port.description || 'no description')}`)
    if (options.listen === undefined || port.hint !== null) continue
    for (const rate of rates) await showTraffic(port, rate, options.listen, options.ask ? drivers : [], drivers)
  }
  return 0
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
  askers: readonly Driver[],
  drivers: readonly Driver[],
): Promise<void> {
  try {
    const { text, asked } = await listenPort(port.path, rate, seconds, askers)
    const answer = asked === null ? '' : `, asked by ${asked.id}`
    if (text === '') return print(`  ${rate} baud: silent for ${seconds} s, with DTR and RTS on and off`)
    print(
      `  ${rate} baud: ${text.length} bytes in ${seconds} s${answer}: ${JSON.stringify(text.slice(0, sampleChars))}`,
    )
    const readers = drivers.map((driver) => describeReading(driver, text, asked)).filter((line) => line !== null)
    for (const line of readers) print(`    ${line}`)
    if (readers.length === 0) print('    no driver makes sense of it: try another rate, or another unit in its options')
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    print(`  ${rate} baud: ${error.message} ${error.next}`)
  }
}

/** What `driver` makes of bytes with its default options, such as `ascii-line reads 12 of 13 frames as pressure`; null where nothing. */
export function describeReading(driver: Driver, text: string, asked: Asked | null): string | null {
  const made = (['manometer', 'meter'] satisfies Role[]).map((role) => {
    const decode = bindDecode(driver, resolveOptions(driver, {}), role)
    const memory = asked?.id === driver.id ? decode(null, asked.sent, 'sent').memory : null
    // Drivers leave out a first line that may be half a line; an answer begins whole, as who heard the question knows.
    const { readings, faults } = decode(memory, asked === null || driver.hearsSent ? text : `\n${text}`, 'received')
    const fitting = readings.filter(({ quantity }) => (quantity === 'pressure') === (role === 'manometer'))
    return { quantity: fitting[0]?.quantity, readings: fitting.length, faults: faults.length }
  })
  const best = made.filter(({ readings, faults }) => readings > 0 && readings >= faults)
  if (best.length === 0) return null
  const words = best.map(
    ({ quantity, readings, faults }) => `${readings} of ${readings + faults} frames as ${quantity}`,
  )
  return `${driver.id} reads ${words.join(', ')}`
}
