// Bytes of an instrument that nothing is known of into what each driver makes of them with its default options.
import { bindDecode, type Driver, type Role, resolveOptions } from '../driver.ts'
import type { Asked } from './listen-port.ts'

/** Of those drivers that make anything of `text`, one line each. */
export function describeReadings(drivers: Iterable<Driver>, text: string, asked: Asked | null): string[] {
  return [...drivers].flatMap((driver) => describeReading(driver, text, asked) ?? [])
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
