// The pressure at the tee into lines of text as a digital manometer sends them: damped, averaged, wrong by its errors, rounded, late.
import { type PressureUnit, pressureUnits } from '../core/model/units.ts'
import { createGauge, type GaugeErrors } from './gauge-errors.ts'
import type { TripWatch } from './near-trip.ts'
import type { Random } from './random.ts'
import type { Spell, Spells } from './spells.ts'

export type ManometerTruth = GaugeErrors & {
  /** One line is sent each `linePeriodS`; the display takes a new value with every `linesPerRefresh`-th. */
  linePeriodS: number
  linesPerRefresh: number
  /** Standard deviation of the moment a line is sent. */
  jitterS: number
  /** From the moment a value is taken to the first character of its line. */
  deadS: number
  /** First-order damping of the pressure before it is sampled; 0 = none. */
  dampingS: number
  /** Each value is the mean of the damped pressure over this time before it; 0 = none. */
  boxcarS: number
  /** Every so often it sends nothing while it zeroes itself, and its zero moves by about `stepPa`; null = never. */
  autoZero: { everyS: number; forS: number; stepPa: number } | null
  /** The zero jumps by this much. */
  offsetSteps: readonly (Spell & { offsetPa: number })[]
  unit: PressureUnit
  /** Last digit shown, in `unit`. */
  digit: number
  /** The text of the unit on the line; empty = none. */
  unitText: string
  suctionSign: 1 | -1
  /** Beyond this the line says OL. */
  overRangePa: number
  /** The display does not move; `flag` says so on the line. */
  holds: readonly (Spell & { flag: boolean })[]
  /** It freezes around a trip, without saying so; null = never. */
  tripHolds: TripWatch | null
  /** The display changes to another unit, in number and text. */
  unitChanges: readonly (Spell & { unit: PressureUnit; unitText: string; digit: number })[]
}

/** A line with the moment its first character can leave. */
export type Line = { readyUs: number; bytes: string }

export type Manometer = {
  /**
   * The tee's pressure goes from `fromPa` at `startUs` straight to `toPa` at `endUs`; gives the lines sampled in [startUs, endUs).
   * Steps must join in time; a jump between two of them is a jump of the pressure.
   */
  follow(fromPa: number, toPa: number, startUs: number, endUs: number): readonly Line[]
  vented(timeUs: number): void
  /** The display is frozen until then. */
  hold(untilUs: number): void
}

export type ManometerSpells = {
  [K in 'holds' | 'unitChanges' | 'offsetSteps']: Spells<ManometerTruth[K][number]>
}

const noLines: readonly Line[] = []

export function createManometer(truth: ManometerTruth, spells: ManometerSpells, random: Random): Manometer {
  const gauge = createGauge(truth, random)
  const average = truth.boxcarS > 0 ? createAverage(truth.boxcarS) : null
  let dampedPa = 0
  let count = 0
  let periodStartUs = random.between(0, truth.linePeriodS * 1e6)
  let nextUs = Math.round(periodStartUs)
  let shown = ''
  let heldUntilUs = 0
  let zeroesUs = truth.autoZero ? random.between(0, truth.autoZero.everyS * 1e6) : Number.POSITIVE_INFINITY
  let ownZeroPa = 0

  function display(pressurePa: number, timeUs: number): string {
    const change = spells.unitChanges.at(timeUs)
    const { unit, unitText, digit } = change ?? truth
    const end = unitText === '' ? '' : ` ${unitText}`
    const readPa = gauge.read(pressurePa, timeUs) + (spells.offsetSteps.at(timeUs)?.offsetPa ?? 0) + ownZeroPa
    if (Math.abs(readPa) > truth.overRangePa) return `OL${end}`
    const steps = Math.round((truth.suctionSign * readPa) / pressureUnits[unit] / digit)
    // Adding 0 turns −0 into 0: a display shows no sign at zero.
    return (steps * digit + 0).toFixed(decimalsOf(digit)) + end
  }

  /** Whether it is busy with its own zero; a new one is taken as that ends. */
  function zeroing(timeUs: number): boolean {
    if (!truth.autoZero || timeUs < zeroesUs) return false
    if (timeUs < zeroesUs + truth.autoZero.forS * 1e6) return true
    ownZeroPa = random.normal(truth.autoZero.stepPa)
    zeroesUs += truth.autoZero.everyS * 1e6
    return false
  }

  return {
    follow(fromPa, toPa, startUs, endUs) {
      const stepUs = endUs - startUs
      const slopePaPerUs = (toPa - fromPa) / stepUs
      const tauUs = truth.dampingS * 1e6
      // The solution of tau · y' + y = p(t) on a straight piece.
      const dampedAt = (timeUs: number) => {
        const pressurePa = fromPa + slopePaPerUs * timeUs
        if (tauUs <= 0) return pressurePa
        const behindPa = slopePaPerUs * tauUs
        return pressurePa - behindPa + (dampedPa - fromPa + behindPa) * Math.exp(-timeUs / tauUs)
      }
      let lines = noLines as Line[]
      while (nextUs < endUs) {
        const hold = spells.holds.at(nextUs)
        const still = hold !== null || nextUs < heldUntilUs
        if (!zeroing(nextUs)) {
          if (shown === '' || (!still && count % truth.linesPerRefresh === 0)) {
            const sampledPa = dampedAt(nextUs - startUs)
            shown = display(average ? average.at(nextUs, dampedPa, sampledPa) : sampledPa, nextUs)
          }
          if (lines === noLines) lines = []
          lines.push({
            readyUs: nextUs + Math.round(truth.deadS * 1e6),
            bytes: `${shown}${hold?.flag ? ' HOLD' : ''}\r\n`,
          })
        }
        count++
        periodStartUs += truth.linePeriodS * 1e6
        // A late line is late alone: the instrument's own clock keeps its beat.
        nextUs = Math.max(nextUs + 1, Math.round(periodStartUs + random.normal(truth.jitterS * 1e6)))
      }
      const endPa = dampedAt(stepUs)
      average?.add(endUs, dampedPa, endPa)
      dampedPa = endPa
      gauge.follow(endPa)
      return lines
    },
    vented: gauge.vented,
    hold(untilUs) {
      heldUntilUs = untilUs
    },
  }
}

/** The mean over the last `lastsS` from the integral of the pressure, kept at each step. */
function createAverage(lastsS: number) {
  const lastsUs = lastsS * 1e6
  let steps: { timeUs: number; integral: number }[] = [{ timeUs: 0, integral: 0 }]
  let first = 0
  const integralAt = (timeUs: number) => {
    while (first + 1 < steps.length && steps[first + 1]!.timeUs <= timeUs) first++
    const before = steps[first]!
    const after = steps[first + 1]
    if (!after || timeUs <= before.timeUs) return before.integral
    const share = (timeUs - before.timeUs) / (after.timeUs - before.timeUs)
    return before.integral + share * (after.integral - before.integral)
  }
  return {
    add(endUs: number, fromPa: number, toPa: number) {
      const { timeUs, integral } = steps.at(-1)!
      steps.push({ timeUs: endUs, integral: integral + (endUs - timeUs) * ((fromPa + toPa) / 2) })
      if (first < 10_000) return
      steps = steps.slice(first)
      first = 0
    },
    /** The mean up to a time within the step that follows the last one added; that step runs from `fromPa` to `toPa` here. */
    at(timeUs: number, fromPa: number, toPa: number) {
      const last = steps.at(-1)!
      const total = last.integral + (timeUs - last.timeUs) * ((fromPa + toPa) / 2)
      return (total - integralAt(timeUs - lastsUs)) / lastsUs
    },
  }
}

function decimalsOf(digit: number): number {
  return Math.max(0, Math.ceil(-Math.log10(digit) - 1e-9))
}
