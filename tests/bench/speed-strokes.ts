// A fast bench without a contact, stroke after stroke, into the CPU time that each finished stroke takes.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { type Assessment, assess } from '../../src/core/assess.ts'
import { initialRun, step } from '../../src/core/intake/run.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { readEvent } from '../harness/fold-events.ts'
import { fastPart, suctionPa } from './fast-bench.ts'

const strokes = 10
const barMs = 50

const rig = {
  name: 'fast bench',
  manometer: {
    driver: 'ascii-line',
    suctionSign: -1,
    accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: 250, unit: 'Pa' } },
    digit: { value: 0.01, unit: 'Pa' },
  },
  meter: { driver: 'ascii-line', pair: 'com-no' },
}
const start = { type: 'start', format: 1, id: '019aa000-0000-7000-8000-000000000000', at: '2027-03-14T09:00:00Z' }
const more = { purpose: 'certify', simulated: true, software: 'bench', part: fastPart, rig }

/** Prints the row; whether no stroke took longer than it may. */
export async function strokesAreKept(): Promise<boolean> {
  let run = step(initialRun(bindDrivers(await loadDrivers())), readEvent({ ...start, ...more }))
  let standing: Assessment = null
  const tookMs: number[] = []
  for (let i = 0; tookMs.length < strokes; i++) {
    const shown = (-suctionPa(i / 100) + 0.02 * Math.sin(7.3 * i)).toFixed(2)
    const count = run.tracker.count
    run = step(run, readEvent({ type: 'rx', t: i * 10_000, port: 'manometer', text: `${shown} Pa\r\n` }))
    run = step(run, readEvent({ type: 'rx', t: i * 10_000 + 10, port: 'meter', text: 'OL ohm\r\n' }))
    const before = process.cpuUsage()
    standing = assess(run, standing)
    const { user, system } = process.cpuUsage(before)
    if (run.tracker.count > count) tookMs.push((user + system) / 1000)
  }
  const most = Math.max(...tookMs.slice(1))
  console.log(
    `${most <= barMs ? 'met   ' : 'MISSED'} a session without a contact change, 100 readings/s, a digit of 0.01 Pa: ` +
      `${tookMs.map((ms) => ms.toFixed(0)).join(', ')} ms of CPU a stroke, bar ${barMs} ms from the second on`,
  )
  return most <= barMs
}
