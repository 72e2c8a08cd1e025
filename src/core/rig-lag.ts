// The lags that finished tests on one rig have shown into the lag of the rig.

import { analyse } from './analyse.ts'
import { criteria } from './criteria.table.ts'
import type { Run } from './intake/run.ts'
import { judge } from './judge.ts'
import { type Rig, rigPorts } from './model/rig.ts'
import { pool } from './statistics/mean.ts'
import type { LagEstimate } from './trips/fit.ts'

/** The lag that a test shows by itself, s; or why it does not count. */
export type ShownLag = LagEstimate | { why: string }

/**
 * The lag of a run from its own kicks and rates alone. The lag that its rig file stated is left out: it rests on tests
 * that may be among those pooled with this one, and must not be counted twice.
 */
export function lagShownBy(run: Run): ShownLag {
  const { setup, damage, end } = run
  if (setup === null || damage.corrupt.count > 0 || damage.seal !== 'intact')
    return { why: 'damaged or without a seal' }
  if (end?.reason !== 'finished') return { why: 'not finished' }
  const analysis = analyse(run, { ...setup, rig: { ...setup.rig, lag: null } })
  const { verdict, findings } = judge(analysis)
  if (verdict === 'void') return { why: 'void' }
  if (findings.some((f) => f.code === 'plugged-line' && f.effect !== 'note')) return { why: 'a plugged hose' }
  const { source, valueS, uS } = analysis.lag
  return source === 'estimated' ? { valueS, uS } : { why: 'neither kicks nor rates show it' }
}

export type RigLag = LagEstimate & {
  n: number
  /** √(χ²/(n − 1)) of the lags about their mean; null for one. */
  birgeRatio: number | null
  /** Probability of so great a χ² where all tests have one lag; null for one. */
  p: number | null
  /** False: they differ by more than their uncertainties allow, and `uS` is widened by the ratio. */
  agree: boolean
}

/** The mean by inverse variance; null for no lag, or one of no uncertainty. */
export function poolLags(lags: readonly LagEstimate[]): RigLag | null {
  const pooled = pool(lags.map(({ valueS, uS }) => ({ value: valueS, u: uS })))
  if (pooled === null) return null
  const { value, u, birgeRatio, p } = pooled
  const agree = p === null || p >= criteria.pooledProbability
  const uS = agree ? u : u * Math.max(1, birgeRatio ?? 1)
  return { valueS: value, uS, n: lags.length, birgeRatio, p, agree }
}

/** What makes two rigs the same as far as the lag goes: name, instruments, how they are set, the wired pair. Not the port they are plugged into. */
export function rigMarks(rig: Rig): string {
  const instruments = rigPorts(rig).map(({ name, device }) => [
    name,
    device.driver,
    Object.entries(device.options ?? {}).sort(([a], [b]) => (a < b ? -1 : 1)),
    device.identity?.serial ?? null,
    device.port?.baudRate ?? null,
  ])
  return JSON.stringify([rig.name ?? null, (rig.bridge ?? rig.meter)?.pair ?? null, instruments])
}
