import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createNetwork, type Network, stepUs } from '../../src/simulation/network.ts'
import { hoseTauS, kickPa, lumpsOf, type Pneumatics } from '../../src/simulation/pneumatics.ts'

const diaphragm = { makePa: 60, breakPa: 45, stuck: null }
const base: Pneumatics = { ...goodBench().truth.air, wallS: 0 }
const networkOf = (change: Partial<Pneumatics> = {}, stuck: string | null = null) =>
  createNetwork({ ...base, ...change }, { ...diaphragm, stuck })

function run(network: Network, lastsS: number, ratePaPerS = 0, vented = false) {
  for (let i = 0; i < Math.round((lastsS * 1e6) / stepUs); i++)
    network.step(network.flowFor(ratePaPerS, { leaksPa: 0, needlePa: 0 }), vented)
}

test('A steady plunger makes a straight ramp at the pace asked for, on the stop and floating.', () => {
  const network = networkOf()
  run(network, 10, 2)
  expect(network.teePa).toBeCloseTo(20, 1)
  run(network, 15, 2)
  expect(network.teePa).toBeCloseTo(50, 1)
})

test('The switch follows a ramp later by the time constant of its hose while it floats, and nearly at once on its stop.', () => {
  const air = { hoseS: 0.8 }
  const network = networkOf(air)
  run(network, 10, 2)
  expect(network.teePa - network.switchPa).toBeLessThan(0.1)
  run(network, 15, 2)
  expect(network.teePa - network.switchPa).toBeCloseTo(2 * hoseTauS({ ...base, ...air }), 1)
})

test('A fast jerk of the plunger makes 1.4 times what is left of it, and the wall takes the rest back in its time.', () => {
  const wallS = 2
  const network = networkOf({ wallS }, 'rest')
  const { compliance } = lumpsOf({ ...base, wallS })
  network.slip(20 * compliance.bottle)
  run(network, 0.02)
  expect(network.teePa).toBeCloseTo(20 * 1.4, 0)
  run(network, wallS - 0.02)
  expect(network.teePa).toBeCloseTo(20 * (1 + 0.4 / Math.E), 0)
  run(network, 10 * wallS)
  expect(network.teePa).toBeCloseTo(20, 0)
})

test('The snap takes the kick from the tee: the larger one first, the isothermal one in the end; the switch loses nearly its differential at once.', () => {
  const air = { ...base, wallS: 2 }
  const network = createNetwork(air, diaphragm)
  run(network, 30, 2)
  run(network, 20)
  const before = network.teePa
  network.snap(true, 15)
  expect(before - network.switchPa).toBeGreaterThan(14)
  expect(before - network.switchPa).toBeLessThan(15)
  run(network, 0.15)
  expect(before - network.teePa).toBeCloseTo(kickPa(15, air, 1.4), 0)
  run(network, 20)
  expect(before - network.teePa).toBeCloseTo(kickPa(15, air), 1)
})

test('An open vent empties the bench; what the wall gives back afterwards is small and goes away too.', () => {
  const network = networkOf({ wallS: 0.1 })
  run(network, 20, 2)
  run(network, base.ventTauS, 0, true)
  expect(network.teePa).toBeLessThan(20)
  run(network, 4, 0, true)
  expect(Math.abs(network.teePa)).toBeLessThan(0.01)
})

test('Each leak loses draft while the plunger is still; only the one at the switch lets the switch see less than the tee.', () => {
  for (const leak of [{ leakTauS: 60 }, { teeLeakTauS: 60 }]) {
    const network = networkOf(leak, 'rest')
    run(network, 20, 2)
    const before = network.teePa
    run(network, 30)
    expect(network.teePa / before).toBeCloseTo(Math.exp(-30 / 60), 1)
    expect(network.switchPa / network.teePa).toBeGreaterThan(0.99)
  }
  const network = networkOf({ switchSeesShare: 0.94, hoseS: 0.5 })
  run(network, 20, 2)
  run(network, 2)
  expect(network.switchPa / network.teePa).toBeCloseTo(0.94, 1)
  expect(network.switchPa / network.teePa).toBeLessThan(0.955)
})
