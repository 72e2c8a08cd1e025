// A judged recording into how it was tested: the method in one paragraph, conditions, and the instruments with their certificates.
import type { WhyNot } from '../../core/model/result.ts'
import { type RigPort, rigPorts } from '../../core/model/rig.ts'
import { givenText } from '../../core/text/figures-text.ts'
import { percentText } from '../../core/text/percent-text.ts'
import { numberText, oneUnitText, pressureText, tripStep } from '../../core/text/pressure-text.ts'
import { outsideText } from './outside-text.ts'
import { type Fact, notRecorded, type Section } from './report.ts'
import { type ReportInput, unitsOf } from './report-input.ts'

export function methodSections(input: ReportInput): Section[] {
  return [
    { heading: 'Method', blocks: [{ kind: 'sentences', sentences: [method(input)] }] },
    { heading: 'Conditions', blocks: [{ kind: 'facts', facts: conditions(input) }] },
    { heading: 'Instruments', blocks: instruments(input) },
  ]
}

function method({ result }: ReportInput): string {
  const { lag, cycles } = result
  const strokes = (why: WhyNot) => cycles.filter((cycle) => cycle.why === why).length
  const sources = {
    estimated: 'found in this test',
    prior: 'as earlier tests of the rig have shown',
    declared: 'as the rig states',
    none: 'not known, so a usual one is paid for',
  } as const
  return [
    'A pressure difference is drawn by hand on the switch and let go, stroke by stroke, while manometer and contact are recorded.',
    `Strokes: ${strokes('first-stroke')} first after rest, ${strokes('precondition')} of preconditioning, ${cycles.filter(({ used }) => used).length} that count.`,
    'A trip lies between the last reading of the contact before it and the first after it; its pressure is that of the ramp at that moment,',
    `the zero subtracted and the lag between contact and pressure taken off: ${lag.valueS.toFixed(3)} s, u ${lag.uS.toFixed(3)} s, ${sources[lag.source]}.`,
    'Make and break are means over the counted cycles; uncertainty in the manner of JCGM 100:2008 (GUM).',
  ].join(' ')
}

function conditions({ analysis, result, curve }: ReportInput): Fact[] {
  const { start, rating } = analysis.setup
  const { temperatureC, attitude, restS } = start.conditions ?? {}
  const rates = (name: 'makeRatePaPerS' | 'breakRatePaPerS') => {
    const known = result.cycles.flatMap((cycle) => (cycle.used && cycle[name] !== null ? [cycle[name]] : []))
    if (known.length === 0) return null
    const number = (rate: number) => numberText(rate, curve.unit, tripStep(rating.ratedPa))
    const text = (rate: number) => oneUnitText(rate, curve.unit, tripStep(rating.ratedPa), '/s')
    return `${number(Math.min(...known))} to ${text(Math.max(...known))}`
  }
  return [
    { label: 'Temperature', value: temperatureC == null ? null : `${temperatureC} °C` },
    { label: 'Attitude', value: outsideText(attitude) },
    { label: 'Rest before the test', value: restS == null ? null : `${givenText(restS / 3600, 2)} h` },
    { label: 'Ramp at make, counted cycles', value: rates('makeRatePaPerS') },
    { label: 'Ramp at break, counted cycles', value: rates('breakRatePaPerS') },
  ]
}

function instruments(input: ReportInput): Section['blocks'] {
  const { analysis } = input
  const { rig } = analysis.setup.start
  const rows = rigPorts(rig).map(({ name, device }) => [name, ...identity(device)])
  const { accuracy, calibration, digitPa, leadsOhm } = analysis.setup.rig
  const inUnit = (pa: number) => pressureText(pa, unitsOf(input), { figures: 2 })
  const stated = calibration
    ? `certificate with ${calibration.points.length} points, coverage ${calibration.coverage}, drift ${inUnit(calibration.driftPa)}`
    : accuracy
      ? `${accuracy.ofReading > 0 ? `${percentText(accuracy.ofReading)} of reading and ` : ''}${inUnit(accuracy.fullScalePa)}, ${accuracy.distribution}${accuracy.distribution === 'normal' ? `, coverage ${accuracy.coverage}` : ''}`
      : null
  const facts: Fact[] = [
    { label: 'Rig', value: outsideText(rig.name) },
    { label: 'Accuracy of the manometer', value: stated },
    { label: 'Last digit of the manometer', value: inUnit(digitPa) },
    { label: 'Leads, taken off each reading', value: `${leadsOhm} ohm` },
    {
      label: 'Hose',
      value: rig.hose ? `${rig.hose.lengthM} m long, ${rig.hose.boreMm} mm bore` : null,
    },
  ]
  return [
    { kind: 'table', head: ['Instrument', 'Serial', 'Certificate', 'Valid until'], rows },
    { kind: 'facts', facts },
  ]
}

function identity({ identity }: RigPort): string[] {
  const { serial, certificate, due } = identity ?? {}
  return [outsideText(serial), outsideText(certificate), outsideText(due)].map((text) => text ?? notRecorded)
}
