// Values in their order into how much they scatter about a straight trend.
import { sampleSd } from './mean.ts'

/** A line through two points leaves no scatter about it. */
const fewestForTrend = 3

/** Sample standard deviation (n − 1) of single trips about their straight trend; plain for two, null for fewer. */
export function scatterAboutTrend(ys: readonly number[]): number | null {
  const n = ys.length
  if (n < fewestForTrend) return sampleSd(ys)
  const meanX = (n - 1) / 2
  const meanY = ys.reduce((a, b) => a + b, 0) / n
  const sxx = ys.reduce((sum, _, i) => sum + (i - meanX) ** 2, 0)
  const slope = ys.reduce((sum, y, i) => sum + (i - meanX) * (y - meanY), 0) / sxx
  const squares = ys.reduce((sum, y, i) => sum + (y - meanY - slope * (i - meanX)) ** 2, 0)
  return Math.sqrt(squares / (n - 1))
}
