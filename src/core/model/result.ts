// The result of a recording: the JSON of `replay --json`, field by field. Pressures Pa, times s; null where a value could not be measured.

import type { PortName } from './rig.ts'

/** Damaged lines that a result lists: more than a disk or a copy does, few enough to be held, written and read in one piece. */
export const mostCorruptLines = 2_000_000

export const verdicts = ['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const
export type Verdict = (typeof verdicts)[number]

export type Outcome = 'pass' | 'fail' | 'undecided' | 'not-assessed'

export type Estimate = {
  valuePa: number | null
  uPa: number | null
  /** k·uPa, two-sided 95 %. */
  UPa: number | null
  k: number | null
  /** Effective degrees of freedom; null = unlimited. */
  dof: number | null
  /** Used edges. */
  n: number
  /** Sample standard deviation (n − 1) of single trips about their trend; null for n < 2. */
  scatterPa: number | null
  /** How much lower and higher the truth may be for a hose lag or a leak that the data do not exclude (one-sided 95 %), beside U. */
  allowLowPa: number | null
  allowHighPa: number | null
}

export type WhyNot =
  | 'first-stroke'
  | 'precondition'
  | 'discarded'
  | 'reversal'
  | 'gap'
  | 'too-fast'
  | 'frozen'
  | 'unit-changed'
  | 'chatter'
  | 'no-make'
  | 'no-break'

export type CycleResult = {
  stroke: number
  makePa: number | null
  makeLoPa: number | null
  makeHiPa: number | null
  makeRatePaPerS: number | null
  breakPa: number | null
  breakLoPa: number | null
  breakHiPa: number | null
  breakRatePaPerS: number | null
  used: boolean
  why: WhyNot | null
}

export type LimitResult = {
  name: 'make' | 'break' | 'differential' | 'contact' | 'first-make' | 'first-break'
  /** Pa; ohm for `contact`. */
  lowPa: number | null
  highPa: number | null
  outcome: Outcome
  conformance: number | null
}

export type FindingEffect = 'void' | 'fail' | 'undecided' | 'note'

export type Finding = {
  code: string
  effect: FindingEffect
  text: string
  evidence: Record<string, number | string | boolean | null>
}

export type BudgetLine = {
  quantity: 'make' | 'break' | 'differential'
  component: string
  value: number | null
  unit: string
  distribution: 'rectangular' | 'normal' | 't'
  divisor: number
  sensitivity: number
  uPa: number
  dof: number | null
}

/** What came from one port: its lines, those that gave no reading, wild readings, gaps between readings, moments at which several lines came at once. */
export type PortQuality = { lines: number; unreadable: number; implausible: number; gaps: number; clumps: number }

export type Result = {
  id: string
  verdict: Verdict
  make: Estimate
  break: Estimate
  differential: Estimate
  lag: { valueS: number; uS: number; source: 'estimated' | 'prior' | 'declared' | 'none' }
  firstStroke: { makePa: number | null; breakPa: number | null }
  cycles: CycleResult[]
  /** Leads off; `poorShare` = closures with two readings in a row neither closed nor open, of all that there should be. */
  contact: { medianOhm: number | null; maxOhm: number | null; uOhm: number | null; poorShare: number | null }
  /** Strokes drawn, and in how many of them the switch made and let go; used or not. */
  acted: { strokes: number; made: number; released: number; discarded: number }
  /** What the program said when the recording was made, kept for comparison; null where it said nothing. */
  recorded: { verdict: Verdict; software: string | null } | null
  /** A fail that void or not-assessed outranks, told beside it. */
  beside: string | null
  quality: Partial<Record<PortName, PortQuality>>
  limits: LimitResult[]
  findings: Finding[]
  budget: BudgetLine[]
  /** `corruptLines`: each by its number, the first `mostCorruptLines` of them. */
  damage: { torn: boolean; corruptLines: number[]; seal: 'intact' | 'broken' | 'missing' }
}
