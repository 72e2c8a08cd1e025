// The estimate of a quantity of which nothing was measured, field by field.
import type { Estimate } from '../../src/core/model/result.ts'

export const noEstimate: Estimate = {
  valuePa: null,
  uPa: null,
  UPa: null,
  k: null,
  dof: null,
  n: 0,
  scatterPa: null,
  allowLowPa: null,
  allowHighPa: null,
}
