// An analysis into the result: limits, findings, verdict, and every field of the JSON.
import { type Analysis, analyse, type JudgedCycle } from './analyse.ts'
import { contradictions, withoutContradicted } from './decision/contradictions.ts'
import { judgeBracket, judgeContact, judgeFirst, judgeQuantity } from './decision/limits.ts'
import { notProved } from './decision/not-proved.ts'
import { besideOf, decide } from './decision/verdict.ts'
import { diagnose } from './diagnosis/diagnose.ts'
import type { Contradictions } from './diagnosis/rule.ts'
import type { Run } from './intake/run.ts'
import { firstLines } from './model/line-ranges.ts'
import { type CycleResult, type LimitResult, mostCorruptLines, type Result } from './model/result.ts'
import { isOverdue } from './model/setup.ts'
import type { Measurand } from './uncertainty/budget.ts'

/** The result of a run so far; null before its `start`. The verdict of a run without `end` is at best undecided. */
export function resultOf(run: Run): Result | null {
  return run.setup === null ? null : judge(analyse(run, run.setup))
}

/** The result of an analysis. */
export function judge(analysis: Analysis): Result {
  const { run, setup, cycles, measured, lag } = analysis
  const contradicted = contradictions(analysis)
  const trusted = withoutContradicted(analysis, contradicted)
  const limits = judgeLimits(trusted, contradicted)
  const open = notProved(analysis, limits)
  const { told, ...evidence } = diagnose({ ...trusted, limits, notProved: open, contradicted })
  const used = cycles.filter((c) => c.used).length
  const verdict = decide(run, setup, used, evidence)
  const first = cycles[0]
  const { torn, corrupt, seal } = run.damage
  return {
    id: setup.start.id,
    verdict,
    make: measured.make.estimate,
    break: measured.break.estimate,
    differential: measured.differential.estimate,
    lag: { valueS: lag.valueS, uS: lag.uS, source: lag.source },
    firstStroke: { makePa: first?.makeValue?.valuePa ?? null, breakPa: first?.breakValue?.valuePa ?? null },
    cycles: cycles.map(cycleResult),
    contact: contactOf(analysis),
    acted: {
      strokes: cycles.length,
      made: cycles.filter((c) => c.make !== null).length,
      released: cycles.filter((c) => c.break !== null).length,
      discarded: cycles.filter((c) => c.why === 'discarded').length,
    },
    recorded: recordedOf(analysis),
    beside: besideOf(verdict, evidence),
    quality: Object.fromEntries(
      Object.entries(analysis.quality).map(([port, { clumped: _, ...counts }]) => [port, counts]),
    ),
    limits,
    findings: told,
    budget: (['make', 'break', 'differential'] as const).flatMap((q) => measured[q].budget),
    damage: { torn, corruptLines: firstLines(corrupt, mostCorruptLines), seal },
  }
}

function recordedOf({ run, setup }: Analysis): Result['recorded'] {
  if (run.recorded === null) return null
  const { software } = setup.start
  return { verdict: run.recorded, software: typeof software === 'string' ? software.replace(/^makebreak /, '') : null }
}

function contactOf({ resistance, measuredContact }: Analysis): Result['contact'] {
  const { medianOhm, maxOhm, poor } = resistance
  const poorShare = poor.closures === 0 ? null : poor.poor / poor.closures
  return { medianOhm, maxOhm, uOhm: measuredContact.uOhm, poorShare }
}

function judgeLimits(
  { setup, cycles, measured, measuredContact, highContact }: Analysis,
  { value, lagS, brackets }: Contradictions,
): LimitResult[] {
  const { rating, rig } = setup
  const used = cycles.filter((c) => c.used)
  const singles: Record<Measurand, Parameters<typeof judgeQuantity>[4]> = {
    make: used.flatMap((c) => c.makeValue ?? []),
    break: used.flatMap((c) => c.breakValue ?? []),
    differential: [],
  }
  const between = differenceOf(brackets.make, brackets.break)
  const quantities = (['make', 'break', 'differential'] as const).map((q) =>
    value === null && lagS === null
      ? judgeQuantity(q, measured[q], rating, rig, singles[q])
      : judgeBracket(q, q === 'differential' ? between : brackets[q], measured[q], rating, rig),
  )
  const first = cycles[0]
  return [
    ...quantities,
    judgeContact(measuredContact, highContact, rating, rig, isOverdue(setup, rig.meterDue)),
    judgeFirst('make', first?.makeValue ?? null, measured.make, rating, first?.why === 'too-fast'),
    judgeFirst('break', first?.breakValue ?? null, measured.break, rating, first?.why === 'too-fast'),
  ]
}

type Bracket = Contradictions['brackets']['make']

/** What a make and a break in their brackets can lie apart. */
function differenceOf(make: Bracket, back: Bracket): Bracket {
  return make && back && { lowPa: make.lowPa - back.highPa, highPa: make.highPa - back.lowPa }
}

function cycleResult({ stroke, makeValue, breakValue, used, reason }: JudgedCycle): CycleResult {
  return {
    stroke,
    makePa: makeValue?.valuePa ?? null,
    makeLoPa: makeValue?.loPa ?? null,
    makeHiPa: makeValue?.hiPa ?? null,
    makeRatePaPerS: makeValue?.ratePaPerS ?? null,
    breakPa: breakValue?.valuePa ?? null,
    breakLoPa: breakValue?.loPa ?? null,
    breakHiPa: breakValue?.hiPa ?? null,
    breakRatePaPerS: breakValue?.ratePaPerS ?? null,
    used,
    why: reason,
  }
}
