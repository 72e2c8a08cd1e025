// A driver with one option of each kind, for tests of drivers, rigs and options.
import type { Driver } from '../../src/driver.ts'

export const sampleDriver: Driver = {
  id: 'test-line',
  title: 'A line for tests',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    unit: { kind: 'choice', values: ['Pa', 'kPa'], default: 'Pa', help: 'unit' },
    intervalMs: { kind: 'number', unit: 'ms', min: 20, max: 1000, default: 200, help: 'interval' },
    command: { kind: 'text', default: 'READ?', help: 'command' },
  },
  channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
  wire: () => ({ framing: { kind: 'lines', end: 'lf' }, start: null, poll: [], maxFrameBytes: 100 }),
  decode: () => ({ readings: [], faults: [], memory: null }),
}
