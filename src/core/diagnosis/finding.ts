// One finding: what the streams show, what follows for the verdict, what to do. Every rule makes them through this.
import type { Analysis } from '../analyse.ts'
import type { Finding, FindingEffect, LimitResult } from '../model/result.ts'
import { givenText } from '../text/figures-text.ts'
import { pressureText } from '../text/pressure-text.ts'

/** A finding with the time it is first known, which orders those of one effect. */
export type Found = Finding & { tUs: number }

/** What a rule looks at: the analysis and the outcomes of the limits. */
export type Case = Analysis & { limits: readonly LimitResult[] }

/** A rule gives the findings it sees, none where the case does not show them. Shop rules from no standard, unless a source stands beside. */
export type Rule = (c: Case) => Found[]

export function finding(
  code: string,
  effect: FindingEffect,
  tUs: number,
  text: string,
  evidence: Finding['evidence'],
): Found {
  return { code, effect, text, evidence: roundEvidence(evidence), tUs }
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
