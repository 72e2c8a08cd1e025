// The air of the bench as three lumps and what joins them, stepped in time: what the hand draws into pressures at tee and switch.
import { gasExponent, lumpsOf, type Pneumatics } from './pneumatics.ts'

/** One step, µs: short against every hose, long enough for a session in a few hundredths of a second. */
export const stepUs = 1000
const stepS = stepUs / 1e6

export type Network = {
  readonly teePa: number
  readonly switchPa: number
  /** One step of time: the plunger draws `flowM3PerS`, the vent is open or not. */
  step(flowM3PerS: number, vented: boolean): void
  /** The plunger jumps by this volume. */
  slip(volumeM3: number): void
  /** The diaphragm jumps to its other side, by what its differential makes of its compliance. */
  snap(actuated: boolean, differentialPa: number): void
  /** The hose beside the switch is pinched shut, or let go. */
  pinch(shut: boolean): void
  /** What has to be drawn for this rate, the air at the wall's temperature; `against` what leaks at that pressure. */
  flowFor(ratePaPerS: number, against: { leaksPa: number; needlePa: number }): number
}

/**
 * Bottle, tee and switch, each a volume, joined by hoses in laminar flow; pressures are small against the atmosphere, so all of
 * it is linear but the diaphragm's stops. Each step is solved backwards (implicit Euler), which no short hose can upset.
 * The diaphragm's points say where its stops are; one that is stuck does not float.
 */
export function createNetwork(
  air: Pneumatics,
  diaphragm: { makePa: number; breakPa: number; stuck: string | null },
): Network {
  const { compliance, resistance, conductance } = lumpsOf(air)
  const exponent = air.wallS > 0 ? gasExponent : 1
  const toTee = 1 / resistance.toTee
  const toSwitch = 1 / resistance.toSwitch
  const bottle = compliance.bottle / exponent
  const fromPa = air.floats.fromBreakShare * diaphragm.breakPa
  const toPa = air.floats.toMakeShare * diaphragm.makePa
  const leaks = conductance.bottleLeak + conductance.teeLeak + conductance.switchLeak * air.switchSeesShare

  let bottlePa = 0
  let teePa = 0
  let switchPa = 0
  /** Pressure that the air's own temperature makes, above or below what it has at the wall's. */
  let thermalPa = 0
  let actuated = false
  let pinched = false

  /** What a plug holds back of what is across it, the way the air wants to go; null where it lets nothing through. */
  const heldPa = () => {
    const acrossPa = teePa - switchPa
    return pinched || Math.abs(acrossPa) < air.hoseHoldsPa ? null : Math.sign(acrossPa) * air.hoseHoldsPa
  }
  const floats = () => diaphragm.stuck === null && (actuated ? switchPa < toPa : switchPa > fromPa)
  const switchCompliance = () => (floats() ? compliance.floating : compliance.onStop)

  return {
    get teePa() {
      return teePa
    },
    get switchPa() {
      return switchPa
    },
    step(flowM3PerS, vented) {
      const atSwitch = switchCompliance()
      const toRoom = conductance.bottleLeak + conductance.needle + (vented ? conductance.vent : 0)
      const cooling = air.wallS > 0 ? (bottle * thermalPa) / air.wallS : 0
      const held = heldPa()
      const through = held === null ? 0 : toSwitch
      const against = through * (held ?? 0)
      // Three balances of air, one unknown pressure each; the two outer ones put into the middle one.
      const bottleRow = bottle / stepS + toTee + toRoom
      const bottleIn = (bottle / stepS) * bottlePa + flowM3PerS - cooling
      const switchRow = atSwitch / stepS + through + conductance.switchLeak
      const switchIn = (atSwitch / stepS) * switchPa - against
      const teeRow = compliance.tee / stepS + toTee + through + conductance.teeLeak
      const teeIn =
        (compliance.tee / stepS) * teePa + against + (toTee * bottleIn) / bottleRow + (through * switchIn) / switchRow
      teePa = teeIn / (teeRow - (toTee * toTee) / bottleRow - (through * through) / switchRow)
      switchPa = (switchIn + through * teePa) / switchRow
      const beforePa = bottlePa
      bottlePa = (bottleIn + toTee * teePa) / bottleRow
      // First law for an ideal gas: a change of its air warms or cools it by gamma − 1, the wall takes that back.
      if (air.wallS > 0) {
        const backPa = (thermalPa * stepS) / air.wallS
        thermalPa += ((gasExponent - 1) / gasExponent) * (bottlePa - beforePa + backPa) - backPa
      }
    },
    slip(volumeM3) {
      const jumpPa = volumeM3 / bottle
      bottlePa += jumpPa
      if (air.wallS > 0) thermalPa += (jumpPa * (gasExponent - 1)) / gasExponent
    },
    pinch(shut) {
      pinched = shut
    },
    snap(toActuated, differentialPa) {
      actuated = toActuated
      const jumpPa = (air.complianceM3PerPa * differentialPa) / compliance.floating
      switchPa += actuated ? -jumpPa : jumpPa
    },
    flowFor: (ratePaPerS, { leaksPa, needlePa }) =>
      ratePaPerS * (compliance.bottle + compliance.tee + switchCompliance()) +
      leaks * leaksPa +
      conductance.needle * needlePa,
  }
}
