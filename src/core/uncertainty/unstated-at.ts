// A manometer and pressures into why nothing states how right it is there.
import type { ManometerSpec } from '../model/rig.ts'
import { isCertified } from './certificate.ts'

export type Unstated = 'outside-certificate' | 'outside-scale'

/** A certificate speaks between its points, a data sheet up to full scale (Pa); null where one of them covers all of these. */
export function unstatedAt(
  { accuracy, calibration }: Pick<ManometerSpec, 'accuracy' | 'calibration'>,
  pressuresPa: readonly number[],
): Unstated | null {
  if (calibration !== null)
    return pressuresPa.every((pa) => isCertified(calibration, pa)) ? null : 'outside-certificate'
  return accuracy !== null && pressuresPa.some((pa) => Math.abs(pa) > accuracy.scalePa) ? 'outside-scale' : null
}
