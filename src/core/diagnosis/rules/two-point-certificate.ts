// A certificate of two points without a stated accuracy into a finding: nothing bounds the manometer between them.
import { isBare } from '../../uncertainty/certificate.ts'
import { type Rule, sight } from '../rule.ts'

export const twoPointCertificate: Rule = (c) => {
  const { accuracy, calibration } = c.setup.rig
  if (calibration === null || accuracy !== null || !isBare(calibration)) return []
  const points = calibration.points.length
  const text = `The manometer's certificate has ${points} points only and its accuracy is not stated: nothing bounds what lies between. State the accuracy from its data sheet in the rig, or have it calibrated at a point between, and repeat.`
  return [sight('undecided', 0, text, { points })]
}
