import { expect, test } from 'vitest'
import { Problem } from '../../src/errors.ts'
import {
  isSimulatedPath,
  openSimulatedWire,
  parseSimulatedPath,
  type SimulatedWire,
  simulatedPath,
} from '../../src/simulation/wire.ts'
import { until } from '../harness/until.ts'

type Port = 'manometer' | 'meter' | 'bridge'

function open(path: string, name: Port) {
  const seen = { opened: 0, text: '', lost: [] as string[] }
  const wire: SimulatedWire = openSimulatedWire(path, name, {
    onOpen: () => seen.opened++,
    onData: (bytes) => {
      seen.text += bytes.toString('latin1')
    },
    onLost: (why) => seen.lost.push(why),
  })
  return { ...wire, seen }
}

test('Two wires of one path are the instruments of one bench: one sends by itself, the other answers.', async () => {
  const path = simulatedPath('good', 1, 20)
  const gauge = open(path, 'manometer')
  const meter = open(path, 'meter')
  expect(gauge.seen.opened).toBe(0)
  await until(() => gauge.seen.opened === 1 && meter.seen.opened === 1, 'both wires open')
  meter.write(Buffer.from('READ?\n'))
  await until(() => meter.seen.text.includes('\n') && gauge.seen.text.includes('\n'), 'a line from each')
  expect(meter.seen.text).toBe('+9.90000E+37\n')
  expect(gauge.seen.text).toMatch(/^-?0\.00\d inH2O\r\n/)
  gauge.close()
  meter.close()
  const { text } = gauge.seen
  await new Promise((resolve) => setTimeout(resolve, 50))
  expect(gauge.seen.text).toBe(text)
})

test('A bench begins afresh once all its wires were closed.', async () => {
  const path = simulatedPath('good', 2, 50)
  const firstLine = async () => {
    const gauge = open(path, 'manometer')
    await until(() => gauge.seen.text.includes('\n'), 'a line')
    gauge.close()
    return gauge.seen.text.split('\n')[0]
  }
  expect(await firstLine()).toBe(await firstLine())
})

test('A cable that comes off says so; until it is back the device is absent, and the other one goes on.', async () => {
  const path = simulatedPath('cable-lost', 1, 400)
  const gauge = open(path, 'manometer')
  const meter = open(path, 'meter')
  await until(() => gauge.seen.lost.length > 0, 'the cable off')
  gauge.close()
  const again = open(path, 'manometer')
  await until(() => again.seen.lost.length > 0 || again.seen.opened > 0, 'an answer')
  let back = again
  while (back.seen.opened === 0) {
    back.close()
    back = open(path, 'manometer')
    const tried = back
    await until(() => tried.seen.lost.length > 0 || tried.seen.opened > 0, 'an answer')
  }
  await until(() => back.seen.text.includes('\n'), 'lines again')
  expect(meter.seen.lost).toEqual([])
  back.close()
  meter.close()
})

test('A path states scenario, seed, speed and hand; what it gets wrong is named with the limit.', () => {
  expect(isSimulatedPath('simulated:good')).toBe(true)
  expect(isSimulatedPath('/dev/ttyUSB0')).toBe(false)
  expect(parseSimulatedPath('simulated:good')).toEqual({ name: 'good', seed: 1, speed: 1, follows: 'plan' })
  expect(parseSimulatedPath(simulatedPath('random', 7, 2.5, 'screen'))).toEqual({
    name: 'random',
    seed: 7,
    speed: 2.5,
    follows: 'screen',
  })
  for (const path of [
    'simulated:good?seed=-1',
    'simulated:good?seed=x',
    'simulated:good?speed=0',
    'simulated:good?sped=2',
  ])
    expect(() => parseSimulatedPath(path)).toThrow(Problem)
  expect(() => open('simulated:gone', 'meter')).toThrow(/No simulated bench "gone"/)
})
