// What a rule of the diagnosis looks at, and what it gives: an effect, a sentence with what to do, the evidence.
import type { Analysis } from '../analyse.ts'
import type { Finding, FindingEffect, LimitResult } from '../model/result.ts'
import { givenText } from '../text/figures-text.ts'
import { pressureText } from '../text/pressure-text.ts'

/** What a rule has seen, and when it is first known: that orders the findings of one effect. Its code comes from the table. */
export type Sight = Omit<Finding, 'code'> & { tUs: number }

/** A quantity that only an allowance keeps undecided: how much lower and higher it may be, Pa, and whether a leak makes most of that. */
export type NotProved = { quantity: 'make' | 'break' | 'differential'; lowPa: number; highPa: number; leak: boolean }

type Contradicted = { valuePa: number; lowPa: number; highPa: number; transition: 'make' | 'break' }

/** What the second reader contradicts: single trips, and the fit by one of its values or by its lag; `brackets` = what it allows of all that count. */
export type Contradictions = {
  trips: readonly (Contradicted & { stroke: number; tUs: number })[]
  value: Contradicted | null
  /** The lag of the fit, where no bench can have it, s. */
  lagS: number | null
  brackets: Record<'make' | 'break', { lowPa: number; highPa: number } | null>
}

/** What a rule looks at: the analysis, the outcomes of the limits, what keeps one of them open, and what the second reader contradicts. */
export type Case = Analysis & {
  limits: readonly LimitResult[]
  notProved: NotProved | null
  contradicted: Contradictions
}

/** A rule gives what it sees of its finding, nothing where the case does not show it. */
export type Rule = (c: Case) => Sight[]

export function sight(effect: FindingEffect, tUs: number, text: string, evidence: Finding['evidence']): Sight {
  return { effect, text, evidence: roundEvidence(evidence), tUs }
}

/** Six figures are enough to check a rule by hand and hide the last bits of a floating-point sum. */
function roundEvidence(evidence: Finding['evidence']): Finding['evidence'] {
  return Object.fromEntries(
    Object.entries(evidence).map(([k, v]) => [
      k,
      typeof v === 'number' ? (Number.isFinite(v) ? Number(givenText(v, 6)) : null) : v,
    ]),
  )
}

/** A pressure for a sentence, in the part's unit and in Pa: rounded to its U where that is known, else to three figures. */
export function sayPressure(c: Case, pressurePa: number, UPa: number | null = null): string {
  return pressureText(pressurePa, c.setup.rating.unit, { UPa })
}

/** Whether a transition of the actuated state ever happened in a stroke. */
export function hasTransition(c: Case): boolean {
  return c.cycles.some((cycle) => cycle.edges.length > 0)
}

export function peakPa(c: Case): number {
  return Math.max(0, c.openStroke?.peakPa ?? 0, ...c.strokes.map((s) => s.peakPa))
}
