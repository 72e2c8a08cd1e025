// The part and the hand of the benchmarks that feed instruments by themselves: strokes far beyond the make, as fast as a display allows.

export const fastPart = {
  kind: 'draft-proving',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: 55, high: 69, unit: 'Pa' }, break: { low: 38, high: 60, unit: 'Pa' } },
}

/** Strokes of 26 s to 78 Pa at 6 Pa/s, with rests of 8 s before each. */
export function suctionPa(tS: number): number {
  const inStrokeS = (tS % 34) - 8
  return inStrokeS < 0 ? 0 : Math.max(0, 78 - 6 * Math.abs(inStrokeS - 13))
}
