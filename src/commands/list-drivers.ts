// `driver list`: the drivers there are, or one with the line it expects and its options, as a rig file takes them.
import type { Driver, OptionSpec } from '../driver.ts'
import { Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'
import { print, printWords } from './print.ts'

/** Prints a line for each driver, or all of the one that `id` names; the exit status is 0. */
export async function listDrivers(id?: string): Promise<number> {
  const drivers = await loadDrivers(userFolders().drivers)
  const ids = [...drivers.keys()].sort()
  if (id === undefined) {
    const widest = Math.max(...ids.map((each) => each.length))
    for (const each of ids) print(`${each.padEnd(widest)}  ${drivers.get(each)?.title}`)
    return 0
  }
  const driver = drivers.get(id)
  if (!driver)
    throw new Problem('driver-unknown', `The driver "${id}" is not here; the drivers here are ${ids.join(', ')}.`)
  for (const line of linesOf(driver)) printWords(line)
  return 0
}

function linesOf({ title, serial, channels, options }: Driver): string[] {
  const { baudRate, dataBits, parity, stopBits } = serial
  return [
    title,
    `Reads ${channels.map(({ quantity }) => quantity).join(' and ')}. Where the rig file says nothing else: ${baudRate} baud, ${dataBits}${parity[0]?.toUpperCase()}${stopBits}.`,
    ...Object.entries(options).map(([name, spec]) => `  ${name}: ${rangeOf(spec)}. ${spec.help}`),
  ]
}

function rangeOf(spec: OptionSpec): string {
  if (spec.kind === 'choice') return `${spec.values.join(', ')}; else ${spec.default}`
  if (spec.kind === 'text') return spec.default === '' ? 'a text' : `a text; else "${spec.default}"`
  const unit = spec.unit ? ` ${spec.unit}` : ''
  return `${spec.min} to ${spec.max}${unit}; else ${spec.default}${unit}`
}
