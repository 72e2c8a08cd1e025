// What a report is made from: a judged recording, and what the rest of the program has to say of it.
import type { Analysis } from '../../core/analyse.ts'
import type { CycleResult, FindingEffect, LimitResult, Outcome, Result, Verdict } from '../../core/model/result.ts'
import type { Shop } from '../../core/model/shop.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import type { StepName } from '../../core/plan/test-steps.table.ts'
import { unitsShown } from '../../core/text/pressure-text.ts'
import type { Curve } from '../../core/view/curve.ts'
import type { Logo } from './report.ts'

/** The words of the screens, so that paper and screen say the same. */
export type Words = {
  verdictWords: Record<Verdict, { word: string }>
  limitNames: Record<LimitResult['name'], string>
  outcomeWord: (outcome: Outcome, measured: boolean, ended: boolean) => string
  cycleWord: (cycle: Pick<CycleResult, 'used' | 'why'>) => string
  effectWords: Record<FindingEffect, { word: string }>
  stepWords: Record<StepName, string>
}

/** Another test of the same serial number: when, and what was said of it then. */
export type EarlierTest = { at: string; verdict: Verdict | null; simulated: boolean }

/** What the settings of the shop state, with its logo read. `unit` is shown beside that of the rating. */
export type ShopInput = Pick<Shop, 'name' | 'address' | 'place' | 'unit'> & { logo: Logo | null }

export type ReportInput = {
  shop: ShopInput
  /** Name of the recording, without its folder, and the digest of all its bytes. */
  file: string
  sha256: string
  /** Key and signature of its last seal, where it has them, and what checking them has shown. */
  signed: { key: string; signature: string; told: string } | null
  /** Of the report; null: none was allotted. */
  number: string | null
  /** The day on which its number was allotted, ISO 8601; null: not known. */
  issued: string | null
  /** The report that this one takes the place of, and why. */
  amends: { number: string; why: string } | null
  /** Of the program that works it out today. */
  software: string
  analysis: Analysis
  result: Result
  curve: Curve
  /** Why the verdict is what it is, what to do next, and what was said at the time where that differs (else empty). */
  said: { reason: string; next: string; thenAndNow: string }
  /** Sentences about drivers that are not those of the recording. */
  notes: readonly string[]
  /** Null: nobody looked. */
  earlier: readonly EarlierTest[] | null
  words: Words
}

/** The units in which its paper shows a pressure: that of the rating first. */
export const unitsOf = ({ analysis, shop }: ReportInput): readonly PressureUnit[] =>
  unitsShown(analysis.setup.rating.unit, shop.unit)
