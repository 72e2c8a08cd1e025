// A curve into the plot of pressure against time, with its trips and the limits as bands.
import type { Curve } from '../core/view/curve.ts'
import {
  describeTest,
  describeTrips,
  inUnit,
  linearAxis,
  type PlotLook,
  pressureAxes,
  span,
  usualLook,
} from './curve-axis.ts'
import { bandFill, drawSheet, emptyNote, limitBand, rect, tripMark } from './plot-sheet.ts'
import { type Frame, hues } from './plot-style.ts'
import { element, pathData } from './svg.ts'
import { type Point, thinPoints } from './thin-points.ts'

/** A pause longer than this is a gap in the line, never a bridge across it: slower instruments than 0.5 readings/s are rare. */
const gapS = 2

/** From here on the time axis counts minutes. */
const longS = 900

/** SVG text; a curve without readings gives the axes and says so. */
export function drawPressurePlot(curve: Curve, { frame, second }: PlotLook = usualLook): string {
  const { area, ticks } = frame
  const { own, beside } = pressureAxes(curve, [area.y0, area.y1], second, ticks.up)
  const [, lastS] = span([1, ...curve.pressure.map((point) => point.tS), ...curve.contact.map((point) => point.tS)])
  const inMinutes = lastS > longS
  const perTick = inMinutes ? 60 : 1
  const bottom = linearAxis([0, lastS / perTick], [area.x0, area.x1], inMinutes ? 'time, min' : 'time, s', ticks.across)
  const x = (tS: number) => bottom.scale(tS / perTick)
  const y = (pressurePa: number) => own.scale(inUnit(curve, pressurePa))
  const trips = curve.trips
    .filter((trip) => trip.pressurePa !== null)
    .map((trip) => tripMark(x(trip.tS), y(trip.pressurePa ?? 0), trip.transition, trip.counted))
  const points = withGaps(curve).map((point) => point && { x: x(point.x), y: y(point.y) })
  const thinned = thinPoints(points, area.x1 - area.x0)
  const line = element('path', { d: pathData(thinned), fill: 'none', stroke: hues.ink, 'stroke-width': 1.4 })
  return drawSheet(
    {
      title: curve.title,
      subtitle: `pressure against time · ${describeTest(curve)}`,
      simulated: curve.simulated,
      description: `Pressure difference across the switch over ${Math.round(lastS)} s: ${points.length === 0 ? 'no reading' : `${describeTrips(curve, 'make')}, ${describeTrips(curve, 'break')}`}.`,
      bottom,
      left: own,
      right: beside,
      legend: legendOf(curve, frame),
      under: (['make', 'break'] as const).map((transition) => band(curve, transition, y, frame)).join(''),
      over: (points.length === 0 ? emptyNote('no pressure reading', frame) : line) + trips.join(''),
    },
    frame,
  )
}

/** What the marks mean; also of the other plot. */
export function legendOf(curve: Curve, { titled }: Frame): { mark: string; text: string }[] {
  const kinds = ['make', 'break'] as const
  const trips = kinds.map((transition) => ({
    mark: tripMark(13, transition === 'make' ? -5 : 5, transition),
    text: titled ? describeTrips(curve, transition) : transition,
  }))
  const bands = kinds
    .filter((transition) => curve.limits[transition] !== null)
    .map((transition) => ({ mark: rect(0, -7, 20, 14, bandFill(transition)), text: `${transition} limits` }))
  return [...trips, ...bands]
}

function band(curve: Curve, transition: 'make' | 'break', y: (pressurePa: number) => number, frame: Frame): string {
  const limit = curve.limits[transition]
  if (limit === null) return ''
  const edge = (pressurePa: number | null) => (pressurePa === null ? null : y(pressurePa))
  return limitBand(transition, edge(limit.lowPa), edge(limit.highPa), 'y', frame)
}

function withGaps(curve: Curve): (Point | null)[] {
  const points: (Point | null)[] = []
  let before: number | null = null
  for (const { tS, pressurePa } of curve.pressure) {
    if (before !== null && tS - before > gapS) points.push(null)
    points.push(Number.isFinite(pressurePa) ? { x: tS, y: pressurePa } : null)
    before = tS
  }
  return points
}
