// The pressure at the tee up to a trip into how far behind it a switch is that feels it late, for each lag.
import { criteria } from '../../criteria.table.ts'
import type { Track } from '../../model/samples.ts'
import { indexAt } from '../../statistics/index-at.ts'
import { interpolate } from '../../statistics/interpolate.ts'

/**
 * Pressure at the tee less what the switch feels with a lag of so many seconds, Pa: behind a `hose` that fills, behind an `orifice`
 * (a pinhole in a plug, with the lag at 1 Pa/s), or by a `delay` that is the same for all pressures (a meter's). For a negative lag,
 * the display's, as much the other way.
 */
export type Behind = Record<LagShape, (lagS: number) => number>
export type LagShape = 'hose' | 'orifice' | 'delay'

/** Lags that are followed, s; between them the distance is near enough a straight line. */
const lagsS = [0, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, criteria.mostLagS]
/** The pace that an orifice answers to is the mean over about so long, s. */
const paceS = 0.5
/** What lies so many lags back is felt by less than a thousandth. */
const memory = 7

/**
 * Hose: dPsw/dt = (P − Psw)/τ along the readings, straight between them, to the trip at `tS` (s) where the display showed
 * `shownPa`; at a steady pace r, as for a delay, that is r·τ. Through an orifice the flow goes with the root of the pressure across
 * it, so what is across it goes with r². A hand that changed its pace is followed as it was.
 */
export function behindHose(track: Track, { tS, shownPa }: { tS: number; shownPa: number }): Behind {
  const first = indexAt(track, (tS - memory * criteria.mostLagS) * 1e6)
  const { of, length } = track.part(first, indexAt(track, tS * 1e6))
  const shown = { tS: new Float64Array(length + 1).fill(tS), pa: new Float64Array(length + 1).fill(shownPa) }
  for (let i = 0; i < length; i++) shown.tS[i] = of.tUs[i]! / 1e6
  shown.pa.set(of.pressurePa)
  const places = Array.from(shown.tS.keys())
  const shownAt = (atS: number) =>
    interpolate(
      places,
      atS,
      (i) => shown.tS[i]!,
      (i) => shown.pa[i]!,
    )
  const paPerS = (shownPa - feltAtEnd(shown, paceS)) / paceS
  return {
    orifice: (lagS) => lagS * paPerS * Math.abs(paPerS),
    hose: along(lagsS.map((lagS) => ({ x: lagS, y: shownPa - feltAtEnd(shown, lagS) }))),
    delay: along(lagsS.map((lagS) => ({ x: lagS, y: shownPa - shownAt(tS - lagS) }))),
  }
}

type Point = { x: number; y: number }
/** Pressures that were shown, Pa, and when, s. */
type Shown = { tS: Float64Array; pa: Float64Array }

const along = (behind: readonly Point[]) => (lagS: number) =>
  Math.sign(lagS) *
  interpolate(
    behind,
    Math.abs(lagS),
    (p) => p.x,
    (p) => p.y,
  )

/** What a switch behind a hose of `lagS` feels at the last of the pressures, at rest with the first. */
function feltAtEnd({ tS, pa }: Shown, lagS: number): number {
  if (lagS === 0) return pa.at(-1)!
  let feltPa = pa[0]!
  for (let i = 1; i < tS.length; i++) {
    const spanS = tS[i]! - tS[i - 1]!
    if (!(spanS > 0)) continue
    const fromPa = pa[i - 1]!
    const toPa = pa[i]!
    const behindPa = (lagS * (toPa - fromPa)) / spanS
    feltPa = toPa - behindPa + (feltPa - fromPa + behindPa) * Math.exp(-spanS / lagS)
  }
  return feltPa
}
