// Resistance at the clips into what an ohmmeter answers: asked or on its own, late, over-range, hunting for its range.

import type { Line } from './manometer.ts'
import type { Random } from './random.ts'

export type MeterTruth = {
  /** Null: the meter answers each query. Else it sends a value each period by itself. */
  freeRunPeriodS: number | null
  /** The query the bench's program sends, and how often; used where this program itself plays the whole test. */
  query: { bytes: string; periodMs: number; replyMs: number } | null
  /** From the moment a value is taken to the first character of the answer. */
  delayS: number
  noiseOhm: number
  /** Above this the meter is over-range. */
  rangeOhm: number
  /** An auto-ranging meter stays over-range this long after the circuit has closed. */
  autoRangeS: number
  /** `number`: NR3 of IEEE 488.2, over-range 9.9E37. `unit`: number with unit, over-range OL. */
  format: 'number' | 'unit'
}

/** What the clips show at a time, and since when they have shown it. */
export type Probe = (timeUs: number) => { ohm: number; sinceUs: number }

export type Meter = {
  /** Answers to the bytes of one write whose last byte arrives at `timeUs`; a query ends in `?` and a line feed. */
  ask(bytes: string, timeUs: number): Line[]
  /** The lines of a free-running meter sampled before `endUs`. */
  runTo(endUs: number): Line[]
}

export function createMeter(truth: MeterTruth, probe: Probe, random: Random): Meter {
  let pending = ''
  const periodUs = truth.freeRunPeriodS === null ? null : truth.freeRunPeriodS * 1e6
  let nextUs = periodUs === null ? Number.POSITIVE_INFINITY : random.between(0, periodUs)

  function sample(timeUs: number): Line {
    const { ohm, sinceUs } = probe(timeUs)
    const hunting = timeUs - sinceUs < truth.autoRangeS * 1e6 && sinceUs > 0
    const over = hunting || ohm > truth.rangeOhm
    const value = Math.max(0, ohm + random.normal(truth.noiseOhm))
    return { readyUs: timeUs + Math.round(truth.delayS * 1e6), bytes: show(over ? null : value) }
  }

  function show(ohm: number | null): string {
    if (truth.format === 'number') return `${scientific(ohm ?? 9.9e37)}\n`
    return ohm === null ? 'OL ohm\r\n' : `${ohm.toFixed(2)} ohm\r\n`
  }

  return {
    ask(bytes, timeUs) {
      // A query longer than any command is noise; keeping its end bounds what a stream without line feed can fill.
      pending = (pending + bytes).slice(-256)
      const commands = pending.split('\n')
      pending = commands.pop() ?? ''
      if (truth.freeRunPeriodS !== null) return []
      return commands.filter((command) => command.trimEnd().endsWith('?')).map(() => sample(timeUs))
    },
    runTo(endUs) {
      const lines: Line[] = []
      while (periodUs !== null && nextUs < endUs) {
        lines.push(sample(Math.round(nextUs)))
        nextUs += periodUs
      }
      return lines
    },
  }
}

// NR3 as instruments write it: sign, five decimals, two digits of exponent.
function scientific(value: number): string {
  const [mantissa, exponent] = value.toExponential(5).split('e') as [string, string]
  const power = Number(exponent)
  return `+${mantissa}E${power < 0 ? '-' : '+'}${String(Math.abs(power)).padStart(2, '0')}`
}
