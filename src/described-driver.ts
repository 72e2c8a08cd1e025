// A driver into plain data that another thread can use in its place, and back: all of it but `decode`.
import { type Driver, type DriverFacts, type Options, resolveOptions, type Wire, wireOf } from './driver.ts'
import { Problem } from './errors.ts'
import { digestOf, keepDigest } from './load-drivers.ts'

/** `wires`: what it asks of the line, for each set of options that was asked about. */
export type DescribedDriver = Pick<Driver, 'id' | 'title' | 'serial' | 'options' | 'channels'> & {
  sha256: string | null
  wires: readonly (readonly [options: string, wire: Wire])[]
}

/** `driver` as data, with its wire for each of `given` that it takes. Throws a Problem where it gives no wire for one. */
export function describeDriver(driver: Driver, given: readonly (Options | null | undefined)[]): DescribedDriver {
  const { id, title, serial, options, channels } = driver
  const wires = given.flatMap((each) => {
    const resolved = resolvedOrNull(driver, each)
    return resolved === null ? [] : [[keyOf(resolved), wireOf(driver, resolved)] as const]
  })
  return { id, title, serial, options, channels, sha256: digestOf(driver), wires }
}

/** What was described, as a driver that decodes nothing; its digest is kept. */
export function undescribed({ sha256, wires, ...described }: DescribedDriver): DriverFacts {
  const known = new Map(wires)
  const facts: DriverFacts = {
    ...described,
    wire(options) {
      const wire = known.get(keyOf(options))
      if (wire) return wire
      throw new Problem('internal', `The driver "${described.id}" was not asked about the options ${keyOf(options)}.`)
    },
  }
  if (sha256 !== null) keepDigest(facts, sha256)
  return facts
}

/** Null for options that the driver does not take: whoever checks the rig says so. */
function resolvedOrNull(driver: Driver, given: Options | null | undefined): Options | null {
  try {
    return resolveOptions(driver, given)
  } catch (error) {
    if (error instanceof Problem) return null
    throw error
  }
}

const keyOf = (options: Options) => JSON.stringify(options)
