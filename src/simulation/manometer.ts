// The pressure at the tee into lines of text as a digital manometer sends them: damped, wrong by its errors, rounded, late.
import { type PressureUnit, pressureUnits } from '../core/model/units.ts'
import type { Random } from './random.ts'
import { lagged, pressureAt, type Stretch } from './response.ts'
import type { Spell, Spells } from './spells.ts'

export type ManometerTruth = {
  /** One line is sent each `linePeriodS`; the display takes a new value with every `linesPerRefresh`-th. */
  linePeriodS: number
  linesPerRefresh: number
  /** Standard deviation of the moment a line is sent. */
  jitterS: number
  /** From the moment a value is taken to the first character of its line. */
  deadS: number
  /** First-order damping of the pressure before it is sampled; 0 = none. */
  dampingS: number
  gainError: number
  offsetPa: number
  offsetDriftPaPerS: number
  /** The zero jumps by this much. */
  offsetSteps: readonly (Spell & { offsetPa: number })[]
  noisePa: number
  unit: PressureUnit
  /** Last digit shown, in `unit`. */
  digit: number
  /** The text of the unit on the line; empty = none. */
  unitText: string
  suctionSign: 1 | -1
  /** Beyond this the line says OL. */
  overRangePa: number
  /** The display stands still; `flag` says so on the line. */
  holds: readonly (Spell & { flag: boolean })[]
  /** The display changes to another unit, in number and text. */
  unitChanges: readonly (Spell & { unit: PressureUnit; unitText: string; digit: number })[]
}

/** A line with the moment its first character can leave. */
export type Line = { readyUs: number; bytes: string }

export type Manometer = {
  /** The tee's pressure from `startUs` to `endUs`; gives the lines sampled in [startUs, endUs). Stretches must join. */
  follow(stretch: Stretch, startUs: number, endUs: number): Line[]
}

export type ManometerSpells = {
  [K in 'holds' | 'unitChanges' | 'offsetSteps']: Spells<ManometerTruth[K][number]>
}

export function createManometer(truth: ManometerTruth, spells: ManometerSpells, random: Random): Manometer {
  let dampedPa = 0
  let count = 0
  let periodStartUs = random.between(0, truth.linePeriodS * 1e6)
  let nextUs = Math.round(periodStartUs)
  let shown = ''

  function display(pressurePa: number, timeUs: number): string {
    const change = spells.unitChanges.at(timeUs)
    const { unit, unitText, digit } = change ?? truth
    const end = unitText === '' ? '' : ` ${unitText}`
    const offsetPa =
      truth.offsetPa + (truth.offsetDriftPaPerS * timeUs) / 1e6 + (spells.offsetSteps.at(timeUs)?.offsetPa ?? 0)
    const readPa = pressurePa * (1 + truth.gainError) + offsetPa + random.normal(truth.noisePa)
    if (Math.abs(readPa) > truth.overRangePa) return `OL${end}`
    const steps = Math.round((truth.suctionSign * readPa) / pressureUnits[unit] / digit)
    // Adding 0 turns −0 into 0: a display shows no sign at zero.
    return (steps * digit + 0).toFixed(decimalsOf(digit)) + end
  }

  return {
    follow(stretch, startUs, endUs) {
      const damped = lagged(stretch, dampedPa, truth.dampingS)
      const lines: Line[] = []
      while (nextUs < endUs) {
        const hold = spells.holds.at(nextUs)
        if (shown === '' || (!hold && count % truth.linesPerRefresh === 0))
          shown = display(pressureAt(damped, (nextUs - startUs) / 1e6), nextUs)
        lines.push({
          readyUs: nextUs + Math.round(truth.deadS * 1e6),
          bytes: `${shown}${hold?.flag ? ' HOLD' : ''}\r\n`,
        })
        count++
        periodStartUs += truth.linePeriodS * 1e6
        // A late line is late alone: the instrument's own clock keeps its beat.
        nextUs = Math.max(nextUs + 1, Math.round(periodStartUs + random.normal(truth.jitterS * 1e6)))
      }
      dampedPa = pressureAt(damped, (endUs - startUs) / 1e6)
      return lines
    },
  }
}

function decimalsOf(digit: number): number {
  return Math.max(0, Math.ceil(-Math.log10(digit) - 1e-9))
}
