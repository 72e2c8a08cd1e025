// A curve into the plot of contact resistance against pressure: every cycle as a loop, the limits as bands.
import { scaleLog } from 'd3-scale'
import { givenText } from '../core/text/figures-text.ts'
import type { Curve } from '../core/view/curve.ts'
import { describeTest, describeTrips, inUnit, type PlotLook, pressureAxes, span, usualLook } from './curve-axis.ts'
import { legendOf } from './draw-pressure-plot.ts'
import { type Axis, drawSheet, emptyNote, limitBand, rect } from './plot-sheet.ts'
import { type Frame, hues } from './plot-style.ts'
import { element, pathData } from './svg.ts'

/** Height of the lane above the axis where readings over range stand: they have no number. */
const laneHeight = 34

/** SVG text; a curve without contact readings gives the axes and says so. */
export function drawContactPlot(curve: Curve, { frame, second }: PlotLook = usualLook): string {
  const { area } = frame
  const { own, beside } = pressureAxes(curve, [area.x0, area.x1], second, frame.ticks.across)
  const left = ohmAxis(curve, frame)
  const x = (pressurePa: number) => own.scale(inUnit(curve, pressurePa))
  const readings = curve.contact.filter((point) => point.pressurePa !== null && !Number.isNaN(point.ohm))
  const [lowest] = left.scale.domain()
  const all = readings.map(({ pressurePa, ohm }) => ({
    x: tenth(x(pressurePa ?? 0)),
    y: tenth(Number.isFinite(ohm) ? left.scale(Math.max(ohm, lowest ?? 0)) : area.y1 + laneHeight / 2),
  }))
  // A reading that lies on the one before shows nothing more.
  const points = all.filter(({ x, y }, i) => x !== all[i - 1]?.x || y !== all[i - 1]?.y)
  const loop = element('path', {
    d: pathData(points),
    fill: 'none',
    stroke: hues.ink,
    'stroke-width': 1,
    'stroke-opacity': 0.35,
  })
  const look = {
    fill: 'none',
    stroke: hues.ink,
    'stroke-width': 3.6,
    'stroke-opacity': 0.55,
    'stroke-linecap': 'round',
  }
  const dots = element('path', { d: points.map(dotData).join(''), ...look })
  const lane = rect(area.x0, area.y1, area.x1 - area.x0, laneHeight, { fill: hues.grid, 'fill-opacity': 0.6 })
  return drawSheet(
    {
      title: curve.title,
      subtitle: `contact against pressure, all cycles · ${describeTest(curve)}`,
      simulated: curve.simulated,
      description: `Contact resistance against the pressure difference, ${readings.length} readings: ${describeTrips(curve, 'make')}, ${describeTrips(curve, 'break')}.`,
      bottom: own,
      left,
      top: beside,
      legend: legendOf(curve, frame),
      under: lane + (['make', 'break'] as const).map((transition) => band(curve, transition, x, frame)).join(''),
      over: (points.length === 0 ? emptyNote('no contact reading', frame) : loop + dots) + tripLines(curve, x, frame),
    },
    frame,
  )
}

const tenth = (px: number) => Math.round(10 * px) / 10

/** A line of no length: with round ends it is a dot, and a thousand of them cost no more than one. */
const dotData = ({ x, y }: { x: number; y: number }) => `M${x},${y}h0`

/** Decades from the lowest to the highest resistance read; a reading of 0 ohm or less is on the axis. */
function ohmAxis(curve: Curve, { area }: Frame): Axis {
  const positive = curve.contact.map(({ ohm }) => (ohm > 0 ? ohm : null))
  const [low, high] = span(positive)
  const bottom = 10 ** Math.floor(Math.log10(low || 0.1))
  const top = Math.max(10 ** Math.ceil(Math.log10(high)), 10 * bottom)
  const scale = scaleLog([bottom, top], [area.y0, area.y1 + laneHeight])
  const decades = Math.round(Math.log10(top / bottom))
  const ticks = Array.from({ length: decades + 1 }, (_, i) => {
    const value = Number(givenText(bottom * 10 ** i, 6))
    return { value, text: value >= 1e6 ? `${value / 1e6} M` : value >= 1e3 ? `${value / 1e3} k` : String(value) }
  })
  // The lane's own tick: half a lane above the axis, by the scale's own measure.
  const lanePx = area.y1 + laneHeight / 2
  return { scale, label: 'contact resistance, Ω', ticks: [...ticks, { value: scale.invert(lanePx), text: 'over' }] }
}

function band(curve: Curve, transition: 'make' | 'break', x: (pressurePa: number) => number, frame: Frame): string {
  const limit = curve.limits[transition]
  if (limit === null) return ''
  const edge = (pressurePa: number | null) => (pressurePa === null ? null : x(pressurePa))
  return limitBand(transition, edge(limit.lowPa), edge(limit.highPa), 'x', frame)
}

/** One upright line a trip: where cycles agree they lie on one another. */
function tripLines(curve: Curve, x: (pressurePa: number) => number, { area }: Frame): string {
  return curve.trips
    .filter((trip) => trip.pressurePa !== null)
    .map(({ transition, pressurePa }) => {
      const at = x(pressurePa ?? 0)
      const dashes = transition === 'make' ? 'none' : '6 4'
      const look = { stroke: hues[transition], 'stroke-width': 1.4, 'stroke-opacity': 0.7, 'stroke-dasharray': dashes }
      return element('line', { x1: at, y1: area.y0, x2: at, y2: area.y1, ...look })
    })
    .join('')
}
