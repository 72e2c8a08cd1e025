// What a hand means to do into what the plunger draws at each moment: it aims at a pressure, follows the display, trembles.
import type { Grip } from './hand.ts'
import type { HandPlan } from './hand-plan.ts'
import { type Network, stepUs } from './network.ts'
import type { Pneumatics } from './pneumatics.ts'

export type Plunger = {
  /** m³/s over the step that begins now. */
  draw(grip: Extract<Grip, { kind: 'draw' }>, timeUs: number): number
  /** The switch has snapped: the display has jumped. */
  snapped(timeUs: number): void
  /** The hand has let go. */
  released(): void
}

/** A hand sees within about this time that the pressure runs off its pace, s: common practice, no source. */
const followS = 2
/** After a snap it looks again where the pressure is, for so long, µs: common practice, no source. */
const surprisedUs = 700_000

export function createPlunger(plan: HandPlan, air: Pneumatics, network: Network): Plunger {
  const { tremor, correctsS } = plan
  // A source with a needle is set to a flow and knows nothing of the pressure.
  const sees = air.needleTauS === null
  let aimPa: number | null = null
  let surprisedUntilUs = 0

  const trembling = (timeUs: number) => {
    if (!tremor) return 0
    const perS = 2 * Math.PI * tremor.hz
    return tremor.amplitudeMm * air.plungerMm2 * 1e-9 * perS * Math.cos((perS * timeUs) / 1e6)
  }

  return {
    draw({ ratePaPerS }, timeUs) {
      const holds = ratePaPerS === 0
      if (sees && holds) aimPa = null
      if (sees && correctsS === null && timeUs < surprisedUntilUs) aimPa = network.teePa
      aimPa ??= network.teePa
      aimPa += (ratePaPerS * stepUs) / 1e6
      // A hand that watches the display makes up for what a leak takes, except where it means to hold still.
      const leaksPa = sees && holds ? 0 : aimPa
      const backPaPerS = sees && !holds ? (aimPa - network.teePa) / (correctsS ?? followS) : 0
      return network.flowFor(ratePaPerS + backPaPerS, { leaksPa, needlePa: aimPa }) + trembling(timeUs)
    },
    snapped(timeUs) {
      surprisedUntilUs = timeUs + surprisedUs
    },
    released() {
      aimPa = null
    },
  }
}
