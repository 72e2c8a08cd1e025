// A rating for tests of one part of the core: 62 Pa on make, no limits.
import type { Rating } from '../../src/core/model/part.ts'

export const sampleRating: Rating = {
  kind: 'draft-proving',
  unit: 'Pa',
  ratedPa: 62,
  ratedOn: 'make',
  halfTolerancePa: 7,
  limits: { make: null, break: null, differential: null },
  maxOhm: null,
  proofPa: null,
}
