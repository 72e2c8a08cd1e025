// The readings behind a kick into what they say of the ramp there: how likely they are, wherever it comes from.
import { criteria } from '../criteria.table.ts'
import { advance, filterRamp, paceJump, type RampModel, type RampSample, type RampState } from './ramp.ts'

/** Log of the breadth of the rates that a ramp begins with, whatever they are: taken out where they are known. */
const logAnyRate = 0.5 * Math.log(2 * Math.PI * paceJump.rateVar)

/** What the readings from one on say of the ramp there: their log likelihood for any pressure and pace, the likeliest state, its covariance. */
type Told = { logLik: number; state: RampState }

/** The same of one ramp all along (`steady`), and where what is left of a kick may still fade behind it (`fading`). */
export type Later = { steady: Told; fading: Told }

/**
 * For each reading what it and those behind it say, followed from the end backwards. Just behind a kick's window what is left of it
 * may still fade: there the rate wanders as far as that makes it.
 */
export function laterOf(samples: readonly RampSample[], model: RampModel, largestPa: number): Later[] {
  const reversed = samples.map((s) => ({ ...s, tS: -s.tS })).reverse()
  const steady = filterRamp(reversed, model)
  const fading = { ...model, q: model.q + (criteria.kickFadeShare * largestPa) ** 2 / criteria.kickFadingS }
  return reversed
    .map((last, i): Later => {
      let from = i
      while (from > 0 && last.tS - reversed[from - 1]!.tS < criteria.kickFadingS) from--
      let state = steady.states[from]!
      let logLik = steady.logLiks[from]!
      for (let k = from + 1; k <= i; k++) {
        const next = advance(state, reversed[k]!.tS - reversed[k - 1]!.tS, reversed[k]!, fading)
        state = next.state
        logLik += next.logLik
      }
      return { steady: told(steady.states[i]!, steady.logLiks[i]!), fading: told(state, logLik) }
    })
    .reverse()
}

/** Followed backwards, the rate has the other sign. */
function told(state: RampState, logLik: number): Told {
  return { logLik: logLik + logAnyRate, state: { ...state, vPaPerS: -state.vPaPerS, pv: -state.pv } }
}

/** How well later readings follow on a ramp, and by how much they miss its state, Pa and Pa/s, with the covariance of that. */
export type Joined = { logLik: number; missPa: number; missPaPerS: number; pp: number; pv: number; vv: number }

/** The later readings where the ramp comes to them as `state`, at its pace or at another (the price of a jump). */
export function joinRamp(state: RampState, later: Told): Joined {
  const join = (rateVar: number, price: number): Joined => {
    const pp = state.pp + later.state.pp
    const pv = state.pv + later.state.pv
    const vv = state.vv + later.state.vv + rateVar
    const missPa = later.state.pPa - state.pPa
    const missPaPerS = later.state.vPaPerS - state.vPaPerS
    const rest = vv - (pv * pv) / pp
    // Not capped as a wild reading is: both are states of one ramp.
    const square = (missPa * missPa) / pp + (missPaPerS - (pv / pp) * missPa) ** 2 / rest
    const logLik = later.logLik - 0.5 * (Math.log(4 * Math.PI ** 2 * pp * rest) + square) - price
    return { logLik, missPa, missPaPerS, pp, pv, vv }
  }
  const [even, jumped] = [join(0, 0), join(paceJump.rateVar, paceJump.price)]
  return jumped.logLik > even.logLik ? jumped : even
}
