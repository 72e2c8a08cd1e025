// What hose and leak may still hide into how much lower or higher the truth may be: beside U, never in it.
import { criteria } from '../criteria.table.ts'
import type { HoseLags } from '../trips/lag/hose.ts'
import type { LineDrop } from './line-drop.ts'
import type { LineProof } from './prove-line.ts'

/** How much lower and higher than its value a quantity may be, Pa (one-sided 95 %), and the leak's share of the lower side. */
export type Allowance = { lowPa: number; highPa: number; leakPa: number }

export type Allowances = Record<'make' | 'break' | 'differential', Allowance>

/** Ratio of the heat capacities of air: ideal diatomic gas. */
const gamma = 1.4

/** Nothing to allow for: the lag and the line are proved. */
export const proved: Allowances = (() => {
  const none = { lowPa: 0, highPa: 0, leakPa: 0 }
  return { make: none, break: none, differential: none }
})()

type Seen = {
  hose: HoseLags
  /** Loss of the closed bench that is not excluded, Pa/s; null where nothing bounds it. */
  lossPaPerS: number | null
  /** Values of make and break, Pa; null where there is none. */
  makePa: number | null
  breakPa: number | null
  /** The mechanism's kick, Pa; null where none shows. */
  kickPa: number | null
  /** What a second manometer proves of the line; null where there is none. */
  proof?: LineProof | null
}

/**
 * On the way up a switch behind a hose feels less than the tee shows, on the way down more: a lag that is not excluded lets the make be
 * lower and the break higher, the differential lower by what both together leave open: data that leave the one far out leave less of
 * the other. A leak at the switch makes it feel less both ways: a closed
 * bench that loses dP/dt feeds it through the hose, δ = |dP/dt|·τ·V/(P0·Cd) with V/(P0·Cd) = γ·(D/K − 1) from the kick as it
 * begins (lumped model of volume, resistance and compliance; adiabatic at once). Hose and leak are two faults: bounds from data add as squares.
 * A second manometer at the switch bounds all that lies between, whatever holds it back.
 */
export function allowancesOf({ hose, lossPaPerS, makePa, breakPa, kickPa, proof = null }: Seen): Allowances {
  const most = (proved: boolean | undefined, mostPa: (line: LineDrop) => number) =>
    proof && proved ? Math.max(0, mostPa(proof.drop)) : Number.POSITIVE_INFINITY
  const latest = {
    make: most(proof?.hose, (line) => line.make.highPa),
    break: most(proof?.hose, (line) => -line.break.lowPa),
    differential: most(proof?.hose, (line) => line.differential.highPa),
  }
  const leakiest = {
    make: most(proof?.leak, (line) => line.make.highPa),
    break: most(proof?.leak, (line) => line.break.highPa),
  }
  // However late, the switch felt some pressure that was drawn.
  const drawnPa = makePa === null ? Number.POSITIVE_INFINITY : Math.abs(makePa)
  const late = (q: 'make' | 'break') => Math.min(drawnPa, hose[q].late.pa, latest[q])
  const tauS = Math.max(hose.make.late.lagS, hose.make.shown?.valueS ?? 0) + 2 * (hose.make.shown?.uS ?? 0)
  const differentialPa = makePa !== null && breakPa !== null ? makePa - breakPa : null
  const volumeRatio =
    kickPa !== null && differentialPa !== null && kickPa > 0
      ? Math.min(criteria.mostVolumeRatio, gamma * Math.max(0, differentialPa / kickPa - 1))
      : criteria.mostVolumeRatio
  const leakOf = (valuePa: number | null, leakiestPa: number) => {
    const mostPa = Math.min(criteria.leakAllowanceShare * Math.abs(valuePa ?? 0), leakiestPa)
    return lossPaPerS === null ? mostPa : Math.min(mostPa, lossPaPerS * tauS * volumeRatio)
  }
  // The share taken for a leak nobody measured does not come from data: the greater of the two is enough.
  const both = (lagPa: number, leakPa: number) =>
    lossPaPerS === null ? Math.max(lagPa, leakPa) : Math.hypot(lagPa, leakPa)
  const [makeLeakPa, breakLeakPa] = [leakOf(makePa, leakiest.make), leakOf(breakPa, leakiest.break)]
  const allowances: Allowances = {
    make: {
      lowPa: Math.min(both(late('make'), makeLeakPa), latest.make),
      highPa: hose.make.early.pa,
      leakPa: makeLeakPa,
    },
    break: { lowPa: both(hose.break.early.pa, breakLeakPa), highPa: late('break'), leakPa: breakLeakPa },
    differential: {
      lowPa: Math.min(hose.both.latePa, late('make') + late('break'), latest.differential),
      highPa: hose.both.earlyPa,
      leakPa: 0,
    },
  }
  return proof ? raisedAllowances(allowances, proof.drop) : allowances
}

/**
 * The allowances, raised to what the second manometer shows where they are less for certain. A line takes pressure from the switch on the way up, and by a leak on the way down; what it holds back both ways it keeps there on
 * the way down. A second manometer that shows the other way round is wrong itself, and raises nothing.
 */
function raisedAllowances(allowed: Allowances, line: LineDrop): Allowances {
  const { make, break: back, differential } = allowed
  // What the paces show of it is taken off the values already.
  const bothWaysPa = line.bothWays.surelyPa - line.bothWays.takenPa
  const lostPa = (quantity: keyof Allowances) => line[quantity].leastPa - line[quantity].doubtPa
  const raised = (pa: number, surelyPa: number, mostPa: number) => (surelyPa > pa ? Math.max(pa, mostPa) : pa)
  return {
    make: { ...make, lowPa: raised(make.lowPa, Math.max(lostPa('make'), bothWaysPa), line.make.highPa) },
    break: {
      ...back,
      lowPa: raised(back.lowPa, lostPa('break'), line.break.highPa),
      highPa: raised(back.highPa, bothWaysPa, -line.break.lowPa),
    },
    differential: {
      ...differential,
      lowPa: raised(differential.lowPa, lostPa('differential'), line.differential.highPa),
    },
  }
}
