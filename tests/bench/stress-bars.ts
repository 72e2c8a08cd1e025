// The sessions of a row into its line of the stress table, and the bars that it misses.
import { type Cell, cells, type Quantity, quantities } from './stress-benches.ts'
import type { StressRow } from './stress-rows.table.ts'
import type { Held, Session } from './stress-session.ts'

export type Tally = {
  row: StressRow
  /** Sessions, passes and fails in each cell. */
  cells: Record<Cell, { n: number; passed: number; failed: number; held: Record<Quantity, number> }>
  coverage: Record<Quantity, number>
  /** Mean U over 1.96 × RMS error. */
  width: Record<Quantity, number>
  /** Mean of what a hose may take: off the make, onto the break, off the differential. */
  allowancePa: number
  /** Right, or undecided or void with a cause named; share of all sessions, of the quantity where it is least. */
  rightShare: number
}

export type Sessions = Record<Cell, readonly Session[]>

const share = (count: number, n: number) => (n === 0 ? Number.NaN : count / n)
const mean = (xs: readonly number[]) => xs.reduce((sum, x) => sum + x, 0) / xs.length

/** Chance of more than `most` of `n` where each has chance `p`. */
export function chanceAbove(most: number, n: number, p: number): number {
  let term = (1 - p) ** n
  let below = 0
  for (let k = 0; k <= most; k++) {
    below += term
    term *= ((n - k) / (k + 1)) * (p / (1 - p))
  }
  return Math.max(0, 1 - below)
}

/** The most of `n` that a program with a risk of 2.5 % exceeds no more often than it exceeds 13 of 200. */
export function mostAtLimit(n: number): number {
  let most = 0
  while (chanceAbove(most, n, 0.025) > chanceAbove(13, 200, 0.025)) most++
  return most
}

/** The fewest of `n` that an honest 95 % interval holds, falling short no more often than it does of 181 of 200. */
export function leastCovered(n: number): number {
  // Outside are more than 19 of 200, each with a chance of 5 %.
  const allowed = chanceAbove(19, 200, 0.05)
  let outside = 0
  while (chanceAbove(outside, n, 0.05) > allowed) outside++
  return n - outside
}

/**
 * Whether what was said of a quantity is right, or names its doubt as the row allows; a fail is right of a part that is outside its limits.
 * Each quantity by itself: three honest intervals of 95 % hold all at once in 86 to 95 %, by what they share.
 */
export function isRight(row: StressRow, cell: Cell, { verdict, names, held }: Session, quantity: Quantity): boolean {
  const { causes } = row.maySay
  const isOutside = cell !== 'limit' && cell !== 'good'
  const verdicts = row.fault === 'bench' && isOutside ? [...row.maySay.verdicts, 'fail'] : row.maySay.verdicts
  const named = causes.length === 0 ? row.fault !== 'none' || names.length > 0 : causes.some((c) => names.includes(c))
  if (verdicts.includes(verdict) && named) return true
  return (held[quantity]?.within ?? false) && (row.fault === 'none' || row.fault === 'bench')
}

export function tallyOf(row: StressRow, sessions: Sessions): Tally {
  const all = cells.flatMap((cell) => sessions[cell])
  const holds = (list: readonly Session[], q: Quantity) => list.filter(({ held }) => held[q]?.within ?? false).length
  const perQuantity = (of: (q: Quantity) => number) =>
    Object.fromEntries(quantities.map((q) => [q, of(q)])) as Record<Quantity, number>
  const stated = (q: Quantity) => all.flatMap(({ held }): Held[] => (held[q] ? [held[q]] : []))
  return {
    row,
    cells: Object.fromEntries(
      cells.map((cell) => {
        const list = sessions[cell]
        const said = (verdict: string) => list.filter((s) => s.verdict === verdict).length
        const held = perQuantity((q) => holds(list, q))
        return [cell, { n: list.length, passed: said('pass'), failed: said('fail'), held }]
      }),
    ) as Tally['cells'],
    coverage: perQuantity((q) => share(holds(all, q), all.length)),
    width: perQuantity((q) => {
      const values = stated(q)
      const rms = Math.sqrt(mean(values.map(({ errorPa }) => errorPa ** 2)))
      return mean(values.map(({ UPa }) => UPa)) / (1.96 * rms)
    }),
    allowancePa: mean(quantities.flatMap((q) => stated(q).map((v) => (q === 'break' ? v.allowHighPa : v.allowLowPa)))),
    rightShare: Math.min(
      ...quantities.map((q) => {
        const right = cells.flatMap((cell) => sessions[cell].filter((s) => isRight(row, cell, s, q)))
        return share(right.length, all.length)
      }),
    ),
  }
}

const widest = 1.3
const mostAllowancePa = 0.4
const leastPooled = 0.94
const percent = (of: number) => `${(100 * of).toFixed(1)} %`

/** The bars that a row misses, each as a sentence. */
export function missedBars({ row, ...tally }: Tally): string[] {
  const missed: string[] = []
  const { good } = tally.cells
  const say = (sentence: string) => missed.push(`${row.name}: ${sentence}`)
  const neverPasses = row.fault === 'part' || row.fault === 'file'
  for (const cell of cells) {
    const { n, passed, held } = tally.cells[cell]
    const most = cell === 'limit' && !neverPasses ? mostAtLimit(n) : Math.floor(0.01 * n)
    if ((cell !== 'good' || neverPasses) && passed > most) say(`${passed} of ${n} pass at ${cell}, at most ${most} may`)
    if (row.fault !== 'none') continue
    for (const q of quantities)
      if (held[q] < leastCovered(n))
        say(`the interval of the ${q} holds the truth in ${held[q]} of ${n} at ${cell}, bar ${leastCovered(n)}`)
  }
  if (!neverPasses && good.failed > 0.01 * good.n) say(`${good.failed} of ${good.n} good parts fail`)
  if (row.fault === 'none') {
    if (good.passed < 0.95 * good.n) say(`${good.passed} of ${good.n} good parts pass, bar 95 %`)
    for (const q of quantities)
      if (!row.mayBeWide && !(tally.width[q] <= widest))
        say(`U of the ${q} is ${tally.width[q].toFixed(2)} × 1.96 RMS, bar ${widest}`)
  } else if (!(tally.rightShare >= 0.9)) say(`right, or named, in ${percent(tally.rightShare)}, bar 90 %`)
  return missed
}

/** What all sound rows together miss. */
export function missedTogether(tallies: readonly Tally[]): string[] {
  const sound = tallies.filter(({ row }) => row.fault === 'none')
  const allowancePa = mean(sound.map((tally) => tally.allowancePa))
  const tooOpen =
    allowancePa > mostAllowancePa
      ? [`all sound benches: the mean allowance is ${allowancePa.toFixed(2)} Pa, bar ${mostAllowancePa} Pa`]
      : []
  const short = quantities.flatMap((q) => {
    const pooled = mean(sound.map(({ coverage }) => coverage[q]))
    return pooled < leastPooled
      ? [
          `all sound benches: the intervals of the ${q} hold the truth in ${percent(pooled)}, bar ${percent(leastPooled)}`,
        ]
      : []
  })
  return [...tooOpen, ...short]
}
