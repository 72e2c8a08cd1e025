import { expect, test } from 'vitest'
import { parseEvent, type RunEvent } from '../../src/core/model/event.ts'
import { type PortName, rigPorts } from '../../src/core/model/rig.ts'
import { findScenario, randomScenario, scenarioNames } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'

const run = (scenario: Scenario, seed = 1) => [...runVirtually(scenario, seed).events]
const short = (name: string) => run(shortened(findScenario(name, 1)))
const timeOf = (event: RunEvent) => (event.type === 'start' ? 0 : event.t)
const rx = (events: RunEvent[], port: PortName) => events.filter((e) => e.type === 'rx' && e.port === port)

function checkWellFormed(events: RunEvent[]) {
  expect(events.filter((e) => !('event' in parseEvent(JSON.parse(JSON.stringify(e)))))).toEqual([])
  expect(events[0]).toMatchObject({ type: 'start', format: 1, simulated: true })
  expect(events.at(-1)!.type).toBe('end')
  expect(events.filter((e) => e.type === 'start' || e.type === 'end')).toHaveLength(2)
  expect(events.filter((e, i) => i > 0 && timeOf(e) < timeOf(events[i - 1]!))).toEqual([])
}

test('Every scenario gives events of the recording format in order of time.', () => {
  for (const name of scenarioNames) checkWellFormed(short(name))
  for (let seed = 0; seed < 5; seed++) checkWellFormed(run(randomScenario(seed), seed))
})

test('The same seed gives the same recording, its name included.', () => {
  const scenario = shortened(findScenario('good', 1))
  expect(run(scenario, 3)).toEqual(run(scenario, 3))
  expect(run(scenario, 4)[0]).not.toEqual(run(scenario, 3)[0])
})

// RFC 9562 § 5.7: 48 bits of Unix milliseconds, version 7, variant bits 10.
test('The id is a UUID of version 7 that holds the time of the start, unless one is given.', () => {
  const [start] = runVirtually(findScenario('good', 1), 1).events
  if (start?.type !== 'start') throw new Error('no start')
  expect(start.id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
  expect(Number.parseInt(start.id.replace('-', '').slice(0, 12), 16)).toBe(Date.parse(start.at))
  const at = '2026-03-01T10:00:00.000Z'
  const [named] = runVirtually(findScenario('good', 1), 1, { at, id: 'mine' }).events
  expect(named).toMatchObject({ at, id: 'mine' })
})

test('Each port is opened, four ticks pass a second, and the flow sets its marks in order.', () => {
  const events = short('good')
  expect(events.flatMap((e) => (e.type === 'link' ? [e.port] : []))).toEqual(['manometer', 'meter'])
  const ticks = events.filter((e) => e.type === 'tick').map(timeOf)
  expect(ticks.every((t, i) => t === (i + 1) * 250_000)).toBe(true)
  expect(timeOf(events.at(-1)!) - ticks.at(-1)!).toBeLessThan(250_000)
  expect(events.flatMap((e) => (e.type === 'mark' ? [e.mark] : []))).toEqual([
    ...['zero', 'first-stroke', 'precondition', 'hold', 'cycles', 'zero'],
  ])
})

test('Each query is answered once before the next one is sent.', () => {
  const talk = short('good').filter((e) => (e.type === 'rx' || e.type === 'tx') && e.port === 'meter')
  expect(talk.length).toBeGreaterThan(500)
  expect(talk.every((e, i) => e.type === (i % 2 === 0 ? 'tx' : 'rx'))).toBe(true)
})

test('A lost cable is an event, nothing arrives until it is back, and a meter that is off is not asked.', () => {
  const events = short('cable-lost')
  const links = events.filter((e) => e.type === 'link' && e.state !== 'open')
  expect(links).toMatchObject([
    { port: 'manometer', state: 'lost' },
    { port: 'manometer', state: 'back' },
  ])
  const [lostUs, backUs] = links.map(timeOf) as [number, number]
  expect(backUs - lostUs).toBe(14_000_000)
  expect(rx(events, 'manometer').filter((e) => timeOf(e) > lostUs && timeOf(e) < backUs)).toEqual([])
  expect(rx(events, 'meter').filter((e) => timeOf(e) > lostUs && timeOf(e) < backUs).length).toBeGreaterThan(10)
  const gone = short('meter-lost')
  const from = timeOf(gone.find((e) => e.type === 'link' && e.state === 'lost')!)
  expect(gone.filter((e) => e.type === 'tx' && e.t > from)).toEqual([])
  expect(gone.at(-1)).toMatchObject({ type: 'end', reason: 'link-lost' })
})

test('Every whole line is one event; only a cable that comes off in mid-line leaves pieces.', () => {
  const whole = (events: RunEvent[]) =>
    events.filter((e) => e.type === 'rx' && !/^-?[\d.]+ inH2O\r\n$|^\+\d\.\d{5}E[+-]\d\d\n$/.test(e.text ?? ''))
  expect(whole(short('good'))).toEqual([])
  expect(whole(run(findScenario('cable-lost-mid-line', 1))).length).toBeGreaterThanOrEqual(1)
})

test('One board that is both sends all its lines on one port.', () => {
  const events = short('bridge')
  expect(rigPorts(findScenario('bridge', 1).rig)).toHaveLength(1)
  const texts = rx(events, 'bridge').map((e) => (e.type === 'rx' ? (e.text ?? '') : ''))
  expect(texts.filter((text) => /inH2O\r\n$/.test(text)).length).toBeGreaterThan(500)
  expect(texts.filter((text) => /ohm\r\n$/.test(text)).length).toBeGreaterThan(500)
  expect(events.some((e) => e.type === 'tx')).toBe(false)
})

test('The trips are there once the events have been walked.', () => {
  const walked = runVirtually(shortened(findScenario('good', 1)), 1)
  expect([...walked.events].length).toBeGreaterThan(1000)
  expect(walked.trips).toHaveLength(20)
})
