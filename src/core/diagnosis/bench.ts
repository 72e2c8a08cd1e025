// What spoils a test without being the switch's fault: units, frozen displays, zero, water, meter and instruments exchanged.
import { criteria } from '../criteria.table.ts'
import { certifiedRangePa, isCertified } from '../uncertainty/certificate.ts'

import { finding, type Rule, sayPressure } from './finding.ts'

export const unitChanged: Rule = (c) => {
  const tUs = c.streams.unitChangedUs
  if (tUs === null) return []
  return [
    finding(
      'unit-changed',
      'void',
      tUs,
      'The manometer changed its unit in mid-test. Set the unit back, lock it, and start again.',
      { atS: tUs / 1e6 },
    ),
  ]
}

export const frozenReading: Rule = (c) => {
  const frozen = c.cycles.filter((cycle) => cycle.why === 'frozen')
  const held = c.run.ports.reduce((sum, p) => sum + (p.faultCounts['held'] ?? 0), 0)
  if (frozen.length === 0 && held === 0) return []
  return [
    finding(
      'frozen-reading',
      'void',
      frozen[0]?.span.startUs ?? c.run.tUs,
      held > 0
        ? 'An instrument shows a held, minimum, maximum or relative value. Switch that function off and start again.'
        : 'The display stood still while the pressure changed. Switch hold off, check the batteries, and start again.',
      { strokes: frozen.length, heldLines: held },
    ),
  ]
}

/** An offset with both ends vented: water in the hose, or a manometer that was not zeroed. */
export const waterInLine: Rule = (c) => {
  const limitPa = criteria.offsetShare * c.setup.rating.ratedPa
  // A zero that was right at first and moved since is another finding.
  const rest = c.zero.before ?? c.zero.after
  if (!rest || Math.abs(rest.meanPa) <= limitPa) return []
  return [
    finding(
      'water-in-line',
      'void',
      rest.tUs,
      `Vented, the manometer shows ${sayPressure(c, rest.meanPa)}. Drain and dry the hose, zero the manometer, and start again.`,
      { offsetPa: rest.meanPa, limitPa },
    ),
  ]
}

export const zeroMoved: Rule = (c) => {
  const { before, after } = c.zero
  if (!before || !after) return []
  const moved = after.meanPa - before.meanPa
  const U = c.measured[c.setup.rating.ratedOn].estimate.UPa
  const { digitPa } = c.setup.rig
  const own = Math.hypot(
    Math.max(before.sdPa, digitPa / Math.sqrt(12)) / Math.sqrt(before.n),
    Math.max(after.sdPa, digitPa / Math.sqrt(12)) / Math.sqrt(after.n),
  )
  // Equal to one digit is not more than one digit; a mean of digits adds rounding of the machine to it.
  const oneDigitPa = digitPa * (1 + 1e-9)
  const limitPa = Math.max(oneDigitPa, criteria.zeroMovedShare * (U ?? 0), criteria.zeroMovedSds * own)
  if (Math.abs(moved) <= limitPa) return []
  const small = U !== null && Math.abs(moved) < U
  return [
    finding(
      'zero-moved',
      small ? 'note' : 'void',
      after.tUs,
      `The zero moved by ${sayPressure(c, moved)} during the test; ${small ? 'it was corrected linearly' : 'that is too much to correct: let the manometer warm up, zero it, and start again'}.`,
      { movedPa: moved, limitPa, correctedBelowPa: U },
    ),
  ]
}

/** Trips where the certificate has no points: their correction and its uncertainty are not known. */
export const outsideCertificate: Rule = (c) => {
  const { calibration } = c.setup.rig
  if (calibration === null) return []
  const zeroPa = (c.zero.before ?? c.zero.after)?.meanPa ?? 0
  const judged = c.cycles.filter((cycle) => cycle.used || cycle === c.cycles[0])
  const trips = judged.flatMap(({ makeValue, breakValue }) => [makeValue ?? [], breakValue ?? []].flat())
  const outside = trips.filter(({ valuePa }) => !isCertified(calibration, valuePa + zeroPa))
  const [first] = outside
  if (!first) return []
  const { lowPa, highPa } = certifiedRangePa(calibration)
  return [
    finding(
      'outside-certificate',
      'undecided',
      c.run.tUs,
      `A trip at ${sayPressure(c, first.valuePa)} lies outside the points of the manometer's certificate, ${sayPressure(c, lowPa)} to ${sayPressure(c, highPa)}. Have the manometer calibrated there too.`,
      { trips: outside.length, pressurePa: first.valuePa, lowPa, highPa },
    ),
  ]
}

/** The session contradicts what the rig's record says of its lag. */
export const lagConflict: Rule = (c) => {
  const { droppedS, valueS, uS } = c.lag
  if (droppedS === null) return []
  return [
    finding(
      'lag-conflict',
      'note',
      c.run.tUs,
      `This session's lag of ${valueS.toFixed(2)} s contradicts the rig's ${droppedS.toFixed(2)} s, which was left out. Measure the rig's lag again: a hose or an instrument was changed.`,
      { sessionS: valueS, uSessionS: uS, rigS: droppedS },
    ),
  ]
}

/** The hose delays the switch: the trip depends on the rate. */
export const pluggedLine: Rule = (c) => {
  const hose = c.lag.hose ?? (c.lag.source === 'estimated' && !c.cycles.some((x) => x.makeTrip?.kick) ? c.lag : null)
  if (!hose || hose.valueS - criteria.coverageFactor * hose.uS <= criteria.hoseWatchS) return []
  const plugged = hose.valueS > criteria.hosePluggedS
  return [
    finding(
      'plugged-line',
      plugged ? 'undecided' : 'note',
      c.run.tUs,
      `The trip depends on the rate as if the hose delayed it by ${hose.valueS.toFixed(1)} s. ${plugged ? 'Clear or replace the hose, and repeat.' : 'Watch the hose: it is narrowing, kinked or long.'}`,
      { lagS: hose.valueS, uLagS: hose.uS },
    ),
  ]
}

export const meterAutoRange: Rule = (c) => {
  const delay = c.lag.meterDelay
  if (!delay) return []
  return [
    finding(
      'meter-auto-range',
      'note',
      c.run.tUs,
      `The meter sees the contact close ${delay.excessS.toFixed(1)} s later than it sees it open; the kick dated these trips instead. Fix its ohm range by hand.`,
      { excessS: delay.excessS, uExcessS: delay.uS },
    ),
  ]
}

/** Instruments on each other's ports, or a port from which nothing readable came. */
export const deafPorts: Rule = (c) => {
  if (c.run.tUs === 0) return []
  const deaf = c.run.ports.filter((p) => (p.name === 'meter' ? c.contact : c.run.pressure).length === 0)
  const swapped = deaf.filter((p) => (p.faultCounts['wrong-quantity'] ?? 0) > 0)
  const first = swapped[0]
  if (first) {
    const ports = swapped.map((p) => p.name)
    const text = `The ${ports.join(' and the ')} ${ports.length > 1 ? 'ports send' : 'port sends'} the other kind of reading. Exchange the two port paths in the rig, and start again.`
    const lines = swapped.reduce((sum, p) => sum + (p.faultCounts['wrong-quantity'] ?? 0), 0)
    return [finding('ports-swapped', 'void', c.run.tUs, text, { ports: ports.join(','), lines })]
  }
  if (c.run.end === null && c.run.tUs < criteria.deafUs) return []
  return deaf.map((p) =>
    finding(
      'no-reading',
      'undecided',
      c.run.tUs,
      `Nothing readable came from the ${p.name}. Check that it is on, its lead, and the baud rate and driver in the rig.`,
      { port: p.name, faults: p.faults, last: p.lastFault?.text ?? null },
    ),
  )
}
