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
  const beforeTrip = track.slice(first, indexAt(track, tS * 1e6))
  const points: Point[] = [...beforeTrip.map((s) => ({ x: s.tUs / 1e6, y: s.pressurePa })), { x: tS, y: shownPa }]
  const paPerS = (shownPa - feltAtEnd(points, paceS)) / paceS
  return {
    orifice: (lagS) => lagS * paPerS * Math.abs(paPerS),
    hose: along(lagsS.map((lagS) => ({ x: lagS, y: shownPa - feltAtEnd(points, lagS) }))),
    delay: along(lagsS.map((lagS) => ({ x: lagS, y: shownPa - heightAt(points, tS - lagS) }))),
  }
}

type Point = { x: number; y: number }

const heightAt = (points: readonly Point[], x: number) =>
  interpolate(
    points,
    x,
    (p) => p.x,
    (p) => p.y,
  )

const along = (behind: readonly Point[]) => (lagS: number) => Math.sign(lagS) * heightAt(behind, Math.abs(lagS))

/** What a switch behind a hose of `lagS` feels at the last of the points (s, Pa), at rest with the first. */
function feltAtEnd(points: readonly Point[], lagS: number): number {
  if (lagS === 0) return points.at(-1)!.y
  let feltPa = points[0]!.y
  for (let i = 1; i < points.length; i++) {
    const [from, to] = [points[i - 1]!, points[i]!]
    const spanS = to.x - from.x
    if (!(spanS > 0)) continue
    const behindPa = (lagS * (to.y - from.y)) / spanS
    feltPa = to.y - behindPa + (feltPa - from.y + behindPa) * Math.exp(-spanS / lagS)
  }
  return feltPa
}
