// How long each instrument stayed on in an earlier test into one sentence of warning, before it switches itself off again.
import type { PortPlan } from '../source/acquire.ts'

/** From this share of its time on it is warned (common practice, no source). */
export const warnedShare = 0.8

/** The warning `elapsedS` after the start; null where none is due. How long an instrument was on before, nobody knows. */
export function powerWarning(ports: readonly Pick<PortPlan, 'name' | 'onForS'>[], elapsedS: number): string | null {
  const due = ports.filter(({ onForS }) => onForS && elapsedS >= warnedShare * onForS && elapsedS < onForS)
  return due.length === 0 ? null : `${powerText(due)}: vent, then press a key on it.`
}

/** What is known of them, without a full stop. */
export function powerText(ports: readonly Pick<PortPlan, 'name' | 'onForS'>[]): string {
  const each = ports.map(({ name, onForS = 0 }) => `the ${name} fell silent after ${Math.round(onForS / 60)} min`)
  return `In an earlier test ${each.join(' and ')}, as one that saves power does`
}
