// What the program decides by itself while a test runs: unfit ports at the start, the end when the hand is at rest.

import { expect, test } from 'vitest'
import type { Run } from '../../src/core/intake/run.ts'
import type { PortName } from '../../src/core/model/rig.ts'
import type { Live } from '../../src/core/view/live.ts'
import { createOverseer } from '../../src/fold/oversee-run.ts'

import type { AcquisitionPlan } from '../../src/source/acquire.ts'
import { sampleStart } from '../harness/sample-start.ts'

const settings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const
const wire = { framing: { kind: 'lines', end: 'lf' }, start: null, poll: [], maxFrameBytes: 80 } as const
const plan: AcquisitionPlan = {
  file: 'x.run',
  start: sampleStart,
  ports: [
    { name: 'manometer', path: '/dev/a', settings, wire },
    {
      name: 'meter',
      path: '/dev/b',
      settings,
      wire: { ...wire, poll: [{ bytes: '?', periodMs: 5000, replyMs: 1, quietMs: 1 }] },
    },
  ],
}

type Heard = { recentUs: number[]; lastFault: { code: string; text: string } | null }
const well: Heard = { recentUs: [1], lastFault: null }
const silent: Heard = { recentUs: [], lastFault: null }

/** A run and its view in which nothing matters but what the overseer looks at. */
function state(elapsedS: number, step: string, ports: Partial<Record<PortName, Heard>> = {}) {
  const heard = { manometer: well, meter: well, ...ports }
  const run = {
    tUs: elapsedS * 1e6,
    end: null,
    ports: Object.entries(heard).map(([name, port]) => ({ name, ...port })),
  }
  const live = { elapsedS, phase: 'cycles', guide: { step } }
  return [run as unknown as Run, live as unknown as Live] as const
}

const strict = () => createOverseer(plan, true)

test('a test ends once all its steps are done, and no earlier', () => {
  const oversee = createOverseer(plan, false)
  for (const step of ['zero', 'cycles', 'closing-zero']) expect(oversee(...state(1000, step))).toBeNull()
  expect(oversee(...state(1001, 'verdict'))).toBe('finished')
})

test('a run that nothing guides goes on for ever', () => {
  const [run] = state(1000, 'cycles')
  const live = { elapsedS: 1000, phase: 'cycles', guide: null } as unknown as Live
  expect(createOverseer(plan, true)(run, live)).toBeNull()
})

test('with somebody at the screen a silent port ends nothing', () => {
  expect(createOverseer(plan, false)(...state(100, 'zero', { manometer: silent }))).toBeNull()
})

test('a port that never gave a reading is refused after its time: ten seconds, longer where it is asked seldom', () => {
  expect(strict()(...state(9.9, 'zero', { manometer: silent }))).toBeNull()
  expect(strict()(...state(10, 'zero', { manometer: silent }))).toMatchObject({
    code: 'port-silent',
    message: 'The manometer on /dev/a at 9600 baud has sent nothing that can be read for 10 s.',
  })
  expect(strict()(...state(19.9, 'zero', { meter: silent }))).toBeNull()
  expect(strict()(...state(20, 'zero', { meter: silent }))).toMatchObject({ code: 'port-silent' })
})

test.each([
  ['unreadable', 'port-garbled'],
  ['wrong-quantity', 'ports-swapped'],
  ['held', 'display-held'],
  ['low-battery', 'battery-low'],
])('a port that gave nothing but the fault %s is %s', (fault, code) => {
  const manometer = { recentUs: [], lastFault: { code: fault, text: 'what came' } }
  expect(strict()(...state(12, 'zero', { manometer }))).toMatchObject({
    code,
    message: expect.stringContaining('"what came"'),
  })
})

test('a port that was heard once is never refused, also not while its cable is off', () => {
  const oversee = strict()
  expect(oversee(...state(1, 'zero'))).toBeNull()
  expect(oversee(...state(60, 'zero', { manometer: silent, meter: silent }))).toBeNull()
})

test('a port that sends what the other should is named before the silence of that other one, which it explains', () => {
  const meter = { recentUs: [], lastFault: { code: 'wrong-quantity', text: 'pressure came' } }
  const exchanged = { manometer: silent, meter }
  expect(strict()(...state(10, 'zero', exchanged))).toMatchObject({
    code: 'ports-swapped',
    message: expect.stringContaining('The meter on /dev/b'),
  })
})
