// The cycles of a session into its two paces: how fast the slow ones were, and how many were brisk enough to tell a lag.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { median } from '../statistics/mean.ts'

/** `slowPaPerS` null before a cycle counts; `brisk`: cycles that count and were faster by what tells a lag. */
export type Paces = { slowPaPerS: number | null; brisk: number }

/**
 * The paces of the cycles that count; those begun after `briskSinceUs` (null: none) may be brisk. A brisk one is faster than
 * the slowest by the ratio from which the rates tell the lag, at its make and at its break.
 */
export function pacesOf(assessment: Assessment, briskSinceUs: number | null): Paces {
  const counted = (assessment?.analysis.cycles ?? []).flatMap(({ used, span, makeValue, breakValue }) =>
    used && makeValue && breakValue
      ? [{ startUs: span.startUs, rates: [makeValue.ratePaPerS, breakValue.ratePaPerS] as const }]
      : [],
  )
  const isAsked = (startUs: number) => briskSinceUs !== null && startUs >= briskSinceUs
  const slow = counted.filter((c) => !isAsked(c.startUs))
  const slowest = [0, 1].map((trip) => Math.min(...slow.map(({ rates }) => rates[trip]!)))
  const brisk = counted.filter(
    ({ startUs, rates }) =>
      isAsked(startUs) && rates.every((rate, trip) => rate > criteria.lagRateRatio * slowest[trip]!),
  )
  return { slowPaPerS: median(slow.flatMap(({ rates }) => rates)), brisk: brisk.length }
}
