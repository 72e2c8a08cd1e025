// The driver of an instrument that nobody hears: what it shows is typed, so it has options and never a byte.
import { criteria } from './core/criteria.table.ts'
import { typedDriver as id } from './core/model/typed.ts'
import type { Driver } from './driver.ts'

export const typedDriver: Driver = {
  id,
  title: 'No port: what the instrument shows is typed, and a pass is rarer for it.',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    reactionS: {
      ...{ kind: 'number', unit: 's', min: 0.1, max: 3, default: criteria.reactionS },
      help: 'How late at most you read the display, or press the key, after the contact has changed.',
    },
    pacePercentPerS: {
      ...{
        kind: 'number',
        unit: '% of the rated point a second',
        min: 0.2,
        max: 10,
        default: 100 * criteria.steadyShare,
      },
      help: 'The fastest that you go through a trip; nothing measures it. A meter does not use it.',
    },
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'contact', quantity: 'contact', unit: 'state' },
  ],
  wire: () => ({ framing: { kind: 'lines', end: 'lf' }, start: null, poll: [], maxFrameBytes: 1 }),
  decode: () => ({ readings: [], faults: [], memory: null }),
}
