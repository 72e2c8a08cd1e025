// Resistance at the clips into what an ohmmeter answers: asked or on its own, late, averaged, over-range, hunting for its range.

import type { Line } from './manometer.ts'
import type { Random } from './random.ts'

export type MeterTruth = {
  /** Null: the meter answers each query. Else it sends a value each period by itself. */
  freeRunPeriodS: number | null
  /** The query the bench's program sends, and how often; used where this program itself plays the whole test. */
  query: { bytes: string; periodMs: number; replyMs: number } | null
  /** From the moment a value is taken to the first character of the answer. */
  delayS: number
  /** Each value is the mean over this time before it is taken; 0 = none. */
  integrationS: number
  noiseOhm: number
  /** Above this the meter is over-range. */
  rangeOhm: number
  /** An auto-ranging meter stays over-range for a time between the two after the circuit has closed. */
  autoRangeS: { from: number; to: number }
  /** Open leads pick up hum: this share of the readings shows some value above `fromOhm`; null = none. */
  openNoise: { share: number; fromOhm: number } | null
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

/** An integrating meter is looked at so often within its time. */
const looks = 16

export function createMeter(truth: MeterTruth, probe: Probe, random: Random): Meter {
  let pending = ''
  const periodUs = truth.freeRunPeriodS === null ? null : truth.freeRunPeriodS * 1e6
  let nextUs = periodUs === null ? Number.POSITIVE_INFINITY : random.between(0, periodUs)
  let ranging = { sinceUs: 0, forUs: 0 }

  /** Mean of what its converter sees, which is never more than its range. */
  function integrated(timeUs: number): number {
    if (truth.integrationS === 0) return probe(timeUs).ohm
    const topOhm = 1.1 * truth.rangeOhm
    let sum = 0
    for (let i = 0; i < looks; i++) {
      const atUs = Math.max(0, timeUs - ((looks - 1 - i) / (looks - 1)) * truth.integrationS * 1e6)
      sum += Math.min(topOhm, probe(atUs).ohm)
    }
    return sum / looks
  }

  function hunts(timeUs: number): boolean {
    const { sinceUs } = probe(timeUs)
    if (sinceUs !== ranging.sinceUs)
      ranging = { sinceUs, forUs: 1e6 * random.between(truth.autoRangeS.from, truth.autoRangeS.to) }
    return timeUs - sinceUs < ranging.forUs && sinceUs > 0
  }

  function sample(timeUs: number): Line {
    const ohm = integrated(timeUs)
    const over = hunts(timeUs) || ohm > truth.rangeOhm
    const hum = over && truth.openNoise && random.uniform() < truth.openNoise.share ? truth.openNoise.fromOhm : null
    const value = hum === null ? Math.max(0, ohm + random.normal(truth.noiseOhm)) : hum * random.between(1, 3)
    return { readyUs: timeUs + Math.round(truth.delayS * 1e6), bytes: show(over && hum === null ? null : value) }
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
