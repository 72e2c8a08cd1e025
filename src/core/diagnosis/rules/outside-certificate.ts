// Trips into a finding: they lie where the certificate of the manometer has no points.
import { certifiedRangePa, isCertified } from '../../uncertainty/certificate.ts'
import { judgedTrips } from '../counted-trips.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** Trips where the certificate has no points: their correction and its uncertainty are not known. */
export const outsideCertificate: Rule = (c) => {
  const { calibration } = c.setup.rig
  if (calibration === null) return []
  const outside = judgedTrips(c).filter(({ shownPa }) => !isCertified(calibration, shownPa))
  const [first] = outside
  if (!first) return []
  const { lowPa, highPa } = certifiedRangePa(calibration)
  return [
    sight(
      'undecided',
      c.run.tUs,
      `A trip at ${sayPressure(c, first.valuePa)} lies outside the points of the manometer's certificate, ${sayPressure(c, lowPa)} to ${sayPressure(c, highPa)}. Have the manometer calibrated there too.`,
      { trips: outside.length, pressurePa: first.valuePa, lowPa, highPa },
    ),
  ]
}
