// A curve as plots and tables: what is drawn where, in which unit, and nothing bridged or lost.
import { expect, test } from 'vitest'
import type { Curve } from '../../src/core/view/curve.ts'
import { usualLook } from '../../src/report/curve-axis.ts'
import { drawContactPlot } from '../../src/report/draw-contact-plot.ts'
import { drawPressurePlot } from '../../src/report/draw-pressure-plot.ts'
import { paperFrame } from '../../src/report/plot-style.ts'
import { thinPoints } from '../../src/report/thin-points.ts'
import { writeCurveCsv } from '../../src/report/write-curve-csv.ts'
import { noEstimate } from '../harness/no-estimate.ts'

const inH2OPa = 249.08891
const curve: Curve = {
  title: 'DP-62 <A&B>',
  verdict: 'not-assessed',
  at: '2027-03-14T09:00:00Z',
  rig: 'north bench',
  simulated: false,
  estimates: {
    make: { ...noEstimate, valuePa: 0.2503 * inH2OPa, UPa: 0.0042 * inH2OPa, n: 7 },
    break: noEstimate,
  },
  unit: 'inH2O',
  pressure: [0, 0.1, 0.2, 0.26, 0.1, 0].map((p, i) => ({ tS: i, pressurePa: p * inH2OPa })),
  contact: [
    { tS: 0, pressurePa: 0, actuated: false, ohm: Infinity },
    { tS: 3, pressurePa: 0.26 * inH2OPa, actuated: true, ohm: 0.32 },
    { tS: 4, pressurePa: null, actuated: null, ohm: 0.3 },
  ],
  trips: [
    { tS: 2.9, stroke: 1, transition: 'make', pressurePa: 0.25 * inH2OPa, counted: true },
    { tS: 4.2, stroke: 1, transition: 'break', pressurePa: null, counted: true },
  ],
  limits: { make: { lowPa: 0.22 * inH2OPa, highPa: 0.28 * inH2OPa }, break: { lowPa: 0.15 * inH2OPa, highPa: null } },
}
const empty: Curve = { ...curve, pressure: [], contact: [], trips: [], limits: { make: null, break: null } }

/** Points of the path with the stroke width given: pieces of `x,y` pairs. */
function pieces(svg: string, strokeWidth: string): [number, number][][] {
  const data = new RegExp(`<path d="([^"]*)" fill="none" [^>]*stroke-width="${strokeWidth}"`).exec(svg)?.[1] ?? ''
  return data
    .split('M')
    .filter((piece) => piece !== '')
    .map((piece) => piece.split('L').map((pair) => pair.split(',').map(Number) as [number, number]))
}

test('both plots are well-formed XML with a title and a description', () => {
  for (const svg of [
    drawPressurePlot(curve),
    drawContactPlot(curve),
    drawPressurePlot(empty),
    drawContactPlot(empty),
  ]) {
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/)
    expect(svg).toContain('<title id="plot-title">DP-62 &lt;A&amp;B&gt;</title>')
    expect(svg).toContain('role="img" aria-labelledby="plot-title plot-description"')
    const open: string[] = []
    for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-zA-Z]+)(?:\s[^<>]*?)?(\/?)>/g)) {
      if (close) expect(open.pop()).toBe(name)
      else if (!self) open.push(name ?? '')
    }
    expect(open).toEqual([])
    expect(svg).not.toMatch(/NaN|Infinity|undefined|null/)
  }
})

test('an empty curve says that there is no reading', () => {
  expect(drawPressurePlot(empty)).toContain('no pressure reading')
  expect(drawContactPlot(empty)).toContain('no contact reading')
})

test('the axis is in the unit of the part, with pascal beside it', () => {
  expect(drawPressurePlot(curve)).toMatch(/pressure difference, inH2O[\s\S]*>Pa</)
  expect(drawPressurePlot({ ...curve, unit: 'Pa' })).not.toMatch(/>Pa</)
})

test('in the drawing of a page the name of the pascal axis lies on its sheet, where a browser cuts off the rest', () => {
  const svg = drawPressurePlot({ ...curve, unit: 'inH2O' }, { ...usualLook, frame: paperFrame })
  const [, x] = /<text x="([\d.]+)"[^>]* transform="rotate\(90[^>]*>Pa</.exec(svg) ?? []
  // Turned by 90°, letters rise to the right: most of the size of the font, 13 px.
  expect(paperFrame.sheet.width - Number(x)).toBeGreaterThanOrEqual(13)
})

test('the line runs from the first to the last reading, higher pressure further up', () => {
  const [line = []] = pieces(drawPressurePlot(curve), '1.4')
  expect(line).toHaveLength(6)
  expect(line[0]![0]).toBeLessThan(line[5]![0])
  expect(Math.min(...line.map(([, y]) => y))).toBe(line[3]![1])
})

test('a gap and a reading over range break the line', () => {
  const pressure = [0, 1, 2, 6, 7, 8, 9].map((tS) => ({ tS, pressurePa: tS === 8 ? Infinity : 50 }))
  const lengths = pieces(drawPressurePlot({ ...curve, pressure }), '1.4').map((piece) => piece.length)
  expect(lengths).toEqual([3, 2, 1])
})

test('the numbers are those of the verdict, not a mean of what is drawn', () => {
  for (const svg of [drawPressurePlot(curve), drawContactPlot(curve)]) {
    expect(svg).toContain('make 0.2503 ± 0.0042 inH2O, n 7')
    expect(svg).toContain('no break that counts')
    expect(svg).toContain(' · NOT ASSESSED · 2027-03-14 · north bench')
    expect(svg).not.toContain('SIMULATED')
  }
})

test('a simulated test is marked across each drawing', () => {
  for (const draw of [drawPressurePlot, drawContactPlot]) {
    const svg = draw({ ...curve, simulated: true })
    expect(svg).toMatch(/transform="rotate[^>]*>SIMULATED</)
    expect(svg).toContain('SIMULATED, no real part · NOT ASSESSED')
  }
})

test('a trip that does not count is hollow', () => {
  const filled = (svg: string) => svg.match(/<path d="[^"]*l5,-?9h-10z" fill="#0f6b6b"/g)?.length ?? 0
  const drawn = (counted: boolean) =>
    filled(drawPressurePlot({ ...curve, trips: curve.trips.map((trip) => ({ ...trip, counted })) }))
  // The legend has one of its own.
  expect([drawn(true), drawn(false)]).toEqual([2, 1])
})

test('a contact reading without a pressure is in the table, not in the plot', () => {
  expect(drawContactPlot(curve).match(/M[\d.]+,[\d.]+h0/g)).toHaveLength(2)
  expect(writeCurveCsv(curve).contact.split('\r\n')).toEqual([
    'time_s,pressure_inH2O,pressure_Pa,contact_ohm,actuated',
    '0,0,0,inf,false',
    '3,0.26,64.76312,0.32,true',
    '4,,,0.3,',
    '',
  ])
})

test('a table in pascal has one pressure column', () => {
  expect(writeCurveCsv({ ...curve, unit: 'Pa' }).trips).toBe(
    'stroke,transition,time_s,pressure_Pa\r\n1,make,2.9,62.27223\r\n1,break,4.2,\r\n',
  )
})

test('thinning keeps the first, the last and every extreme', () => {
  const points = Array.from({ length: 10_000 }, (_, i) => ({
    x: i,
    y: i === 5001 ? 100 : i === 7003 ? -100 : Math.sin(i),
  }))
  const thin = thinPoints(points, 100)
  expect(thin.length).toBeLessThanOrEqual(404)
  for (const i of [0, 5001, 7003, 9999]) expect(thin).toContainEqual(points[i])
  const xs = thin.map((point) => point?.x ?? 0)
  expect(xs).toEqual([...xs].sort((a, b) => a - b))
  expect(thinPoints(points.slice(0, 50), 100)).toEqual(points.slice(0, 50))
  expect(thinPoints([], 100)).toEqual([])
})

test('thinning keeps a gap', () => {
  const points = Array.from({ length: 1000 }, (_, i) => (i === 500 ? null : { x: i, y: 0 }))
  expect(thinPoints(points, 10).filter((point) => point === null)).toHaveLength(1)
})
