import { expect, test } from 'vitest'
import { portMistake } from '../../src/commands/port-mistake.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { withPaths } from '../../src/simulation/scenario.ts'
import { withSecond } from '../../src/simulation/vary.ts'

const rigAt = (first: string, second: string, meter: string) =>
  withPaths(withSecond(goodBench()), { manometer: first, 'manometer-2': second, meter }).rig

test('a second manometer on the port of another instrument is refused, each on its own is not', () => {
  expect(portMistake(rigAt('/dev/ttyUSB0', '/dev/ttyUSB2', '/dev/ttyUSB1'))).toBeNull()
  expect(portMistake(rigAt('/dev/ttyUSB0', '/dev/ttyUSB0', '/dev/ttyUSB1'))).toEqual({
    field: 'manometer-2.port.path',
    text: 'manometer and manometer-2 are both on the port /dev/ttyUSB0; each needs its own',
  })
  expect(portMistake(rigAt('COM3', 'COM4', 'com4'))?.field).toBe('meter.port.path')
})
