// A bench and what is to be another in it into the bench with that changed, the rest as it was: for tables of benches.
import type { Scenario } from './scenario.ts'

type Truth = Scenario['truth']

export const truthOf = (bench: Scenario, change: Partial<Truth>): Scenario => ({
  ...bench,
  truth: { ...bench.truth, ...change },
})
export const planOf = (bench: Scenario, change: Partial<Scenario['plan']>): Scenario => ({
  ...bench,
  plan: { ...bench.plan, ...change },
})
export const switchOf = (bench: Scenario, change: Partial<Truth['switch']>): Scenario =>
  truthOf(bench, { switch: { ...bench.truth.switch, ...change } })
export const contactOf = (bench: Scenario, change: Partial<Truth['switch']['contact']>): Scenario =>
  switchOf(bench, { contact: { ...bench.truth.switch.contact, ...change } })
export const gaugeOf = (bench: Scenario, change: Partial<Truth['manometer']>): Scenario =>
  truthOf(bench, { manometer: { ...bench.truth.manometer, ...change } })
/** A second manometer at the switch end, like the first but with errors of its own; a pinched hose shows where it sits. */
export const withSecond = (bench: Scenario, change: Partial<Truth['manometer']> = {}): Scenario => {
  const { manometer, bridge } = bench.rig
  const first = manometer ?? bridge
  if (!first) return bench
  const second = { ...first, identity: { serial: 'SIM-P2', certificate: 'none: simulated' } }
  const own = { gainError: -0.001, offsetPa: -0.1, dampingS: 0.08, deadS: 0.02 }
  return truthOf(planOf({ ...bench, rig: { ...bench.rig, 'manometer-2': second } }, { pinchS: 4 }), {
    atSwitch: { ...bench.truth.manometer, ...own, ...change },
  })
}
export const meterOf = (bench: Scenario, change: Partial<Truth['meter']>): Scenario =>
  truthOf(bench, { meter: { ...bench.truth.meter, ...change } })
export const airOf = (bench: Scenario, change: Partial<Truth['air']>): Scenario =>
  truthOf(bench, { air: { ...bench.truth.air, ...change } })
