// What the program decides by itself while a test runs: unfit ports at the start, the end when the hand is at rest.
import { expect, test } from 'vitest'
import { createOverseer } from '../../src/commands/oversee-run.ts'
import type { PortName } from '../../src/core/event.ts'
import type { Live } from '../../src/core/live.ts'
import type { Run } from '../../src/core/run.ts'
import type { AcquisitionPlan } from '../../src/source/follow.ts'
import { sampleStart } from '../harness/sample-start.ts'

const settings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const
const wire = { framing: { kind: 'lines', end: 'lf' }, start: null, poll: null, maxFrameBytes: 80 } as const
const plan: AcquisitionPlan = {
  file: 'x.run',
  start: sampleStart,
  ports: [
    { name: 'manometer', path: '/dev/a', settings, wire },
    {
      name: 'meter',
      path: '/dev/b',
      settings,
      wire: { ...wire, poll: { bytes: '?', periodMs: 5000, replyMs: 1, quietMs: 1 } },
    },
  ],
}

type Heard = { recentUs: number[]; lastFault: { code: string; text: string } | null }
const well: Heard = { recentUs: [1], lastFault: null }
const silent: Heard = { recentUs: [], lastFault: null }

/** A run and its view in which nothing matters but what the overseer looks at. */
function state(
  elapsedS: number,
  pressurePa: number | null,
  used: number,
  ports: Partial<Record<PortName, Heard>> = {},
) {
  const heard = { manometer: well, meter: well, ...ports }
  const run = { tUs: elapsedS * 1e6, ports: Object.entries(heard).map(([name, port]) => ({ name, ...port })) }
  const live = { elapsedS, pressurePa, used, wanted: 5, phase: 'cycles' }
  return [run as unknown as Run, live as unknown as Live] as const
}

const strict = () => createOverseer(plan, { endsByItself: true, refusesSilence: true })

test('enough cycles and fifteen seconds of rest end the test, a stroke in between begins the rest anew', () => {
  const oversee = strict()
  expect(oversee(...state(100, 0.2, 5))).toBeNull()
  expect(oversee(...state(114, 0.2, 5))).toBeNull()
  expect(oversee(...state(115, 40, 5))).toBeNull()
  expect(oversee(...state(116, 0.2, 5))).toBeNull()
  expect(oversee(...state(130, 0.2, 5))).toBeNull()
  expect(oversee(...state(131.5, 0.2, 5))).toBe('finished')
})

test('without enough cycles, without a pressure, or with an operator at the keys it goes on for ever', () => {
  const oversee = strict()
  const attended = createOverseer(plan, { endsByItself: false, refusesSilence: false })
  for (let s = 0; s < 100; s++) {
    expect(oversee(...state(s, 0, 4))).toBeNull()
    expect(attended(...state(s, 0, 9, { manometer: silent }))).toBeNull()
  }
  const blind = strict()
  for (let s = 0; s < 100; s++) expect(blind(...state(s, null, 9))).toBeNull()
})

test('a port that never gave a reading is refused after its time: ten seconds, longer where it is asked seldom', () => {
  expect(strict()(...state(9.9, 0, 0, { manometer: silent }))).toBeNull()
  expect(strict()(...state(10, 0, 0, { manometer: silent }))).toMatchObject({
    code: 'port-silent',
    message: 'The manometer on /dev/a at 9600 baud has sent nothing that can be read for 10 s.',
  })
  expect(strict()(...state(19.9, 0, 0, { meter: silent }))).toBeNull()
  expect(strict()(...state(20, 0, 0, { meter: silent }))).toMatchObject({ code: 'port-silent' })
})

test.each([
  ['unreadable', 'port-garbled'],
  ['wrong-quantity', 'ports-swapped'],
])('a port that gave nothing but the fault %s is %s', (fault, code) => {
  const manometer = { recentUs: [], lastFault: { code: fault, text: 'what came' } }
  expect(strict()(...state(12, 0, 0, { manometer }))).toMatchObject({
    code,
    message: expect.stringContaining('"what came"'),
  })
})

test('a port that was heard once is never refused, also not while its cable is off', () => {
  const oversee = strict()
  expect(oversee(...state(1, 0, 0))).toBeNull()
  expect(oversee(...state(60, 0, 0, { manometer: silent, meter: silent }))).toBeNull()
})
