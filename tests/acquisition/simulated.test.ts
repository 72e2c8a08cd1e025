import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { createReader } from '../../src/recording/read.ts'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { lineWire, linkOf, portPlan, startRun } from './bench.ts'

const folder = temporaryFolder()
const polled = { ...lineWire, poll: [{ bytes: 'READ?\n', periodMs: 40, replyMs: 1000, quietMs: 20 }] }

test('a simulated bench is recorded the way serial ports are', async () => {
  const path = simulatedPath('good', 3, 20)
  const run = startRun(folder, [portPlan('manometer', path), portPlan('meter', path, polled)])
  const lines = (name: 'manometer' | 'meter') => run.bytes(name).split('\n').length - 1
  await until(() => lines('manometer') >= 20 && lines('meter') >= 5, 'readings of both')
  await run.close()
  expect(await run.exited).toBeNull()
  expect(run.bytes('meter', 'tx')).toMatch(/^(READ\?\n)+$/)
  const reader = createReader()
  const events = [...reader.push(readFileSync(run.file)), ...reader.finish()]
  expect(events).toEqual(run.events)
  expect(events.filter((event) => event.type === 'corrupt')).toEqual([])
  expect(events.at(-1)).toMatchObject({ type: 'seal', matches: true })
})

test('a second manometer is recorded at a port of its own', async () => {
  const path = simulatedPath('two-manometers', 3, 20)
  const names = ['manometer', 'manometer-2', 'meter'] as const
  const run = startRun(
    folder,
    names.map((name) => portPlan(name, path, name === 'meter' ? polled : undefined)),
  )
  const lines = (name: (typeof names)[number]) => run.bytes(name).split('\n').length - 1
  await until(() => lines('manometer') >= 20 && lines('manometer-2') >= 20, 'readings of both manometers')
  await run.close()
  expect(run.bytes('manometer-2')).toMatch(/^(-?\d\.\d{3} inH2O\r\n)+$/)
  expect(run.bytes('manometer-2')).not.toBe(run.bytes('manometer'))
  expect(run.events.filter((event) => linkOf(event, 'open', 'manometer-2')).length).toBe(1)
})

test('a simulated cable that comes off and back is a link lost and back', async () => {
  const path = simulatedPath('cable-lost', 3, 200)
  const run = startRun(folder, [portPlan('manometer', path), portPlan('meter', path, polled)])
  await run.sees((event) => linkOf(event, 'back') || linkOf(event, 'back', 'meter'), 'back')
  await run.close()
  const states = run.events.flatMap((event) => (event.type === 'link' ? [event.state] : []))
  expect(states.slice(0, 4)).toEqual(['open', 'open', 'lost', 'back'])
})

test('a simulated bench that does not exist is told before the test begins', async () => {
  const run = startRun(folder, [portPlan('manometer', simulatedPath('nonesuch', 1))])
  expect((await run.exited)?.code).toBe('scenario-unknown')
  await run.over()
  expect(run.events.slice(-2)).toMatchObject([{ type: 'end', reason: 'abandoned' }, { type: 'seal' }])
})
