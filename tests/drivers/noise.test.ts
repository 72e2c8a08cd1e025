// A minute of noise at 1 000 lines a second into each driver: nothing of it is a reading, and its memory is no larger than after the first second.
import { expect, test } from 'vitest'
import { createDice } from '../../src/contract/noise.ts'
import { decodeOnce, sizeOf } from '../../src/contract/run-driver.ts'
import { type Role, resolveOptions, wireOf } from '../../src/driver.ts'
import { loadDrivers } from '../../src/load-drivers.ts'

const [seconds, linesPerS, lineBytes] = [60, 1000, 24]
const drivers = await loadDrivers()

test.each([...drivers.keys()])('%s reads nothing of a minute of noise', (id) => {
  const driver = drivers.get(id)!
  const options = resolveOptions(driver, {})
  const { framing, poll } = wireOf(driver, options)
  const end = framing.kind === 'lines' && framing.end === 'cr' ? '\r' : '\n'
  const role: Role = driver.channels.every(({ quantity }) => quantity !== 'pressure') ? 'meter' : 'manometer'
  const dice = createDice(20_261_128)
  // No end within a line: a digit alone between two is an answer where there is no checksum, and nothing can tell.
  const byte = () => String.fromCharCode(dice(256)).replace(/[\r\n]/, '?')
  const line = () => Array.from({ length: lineBytes }, byte).join('')
  let memory: unknown = null
  let [readings, largest, first] = [0, 0, 0]
  for (let i = 0; i < seconds * linesPerS; i++) {
    // What it hears of its own questions comes in between, four in a second.
    const query = poll[i % Math.max(1, poll.length)]
    if (driver.hearsSent === true && query && i % 250 === 0)
      memory = decodeOnce(driver, memory, query.bytes, { options, role, way: 'sent' }).memory
    const found = decodeOnce(driver, memory, line() + end, { options, role, way: 'received' })
    readings += found.readings.length
    memory = found.memory
    if (i % 100 === 99) largest = Math.max(largest, sizeOf(memory))
    if (i === linesPerS - 1) first = largest
  }
  expect(readings).toBe(0)
  // A line driver has nothing left of a line that is over; one of bytes may hold the begin of a frame.
  expect(largest).toBeLessThanOrEqual(framing.kind === 'lines' ? first : 2 * first)
})
