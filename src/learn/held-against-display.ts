// Candidates and what the instrument's own display showed into those that agree with it, their open options closed.
import { type KnownUnit, knownUnit } from '../core/model/units.ts'
import type { Options } from '../driver.ts'
import { type Candidate, readPieces, simplest, type TimedReading } from './candidates.ts'
import type { Piece } from './heard.ts'
import type { Shown } from './shown.ts'
import { trialWith } from './trials.ts'

/** What was typed of the display, and the bytes that came about then. */
export type Observation = { shown: Shown; pieces: readonly Piece[] }

/** A candidate with nothing open; `readings`: the one nearest to the display, for each observation. */
export type Agreeing = { candidate: Candidate; readings: readonly TimedReading[] }

export type Held = {
  /** Those that agree with every observation, the likeliest first; of those that read the same values one alone. */
  agreeing: Agreeing[]
  /** What the likeliest of the others read last; null where it read nothing then. */
  instead: TimedReading | null
}

// Shop rules. The display and the line may be two digits apart, and a hand does not hold a pressure quite still.
const digitsApart = 2
const shareApart = 0.02
/** Clips pressed together by hand differ by so much of their own resistance. */
const shareOfClips = 0.15
/** So many changes, each at the end of a longer frame, show that the frames belong together. */
const fewestChanges = 3
export const openAboveOhm = 1000
const scales = [0, -1, -2, -3, 1, 2, -4, 3].map((power) => Number(`1e${power}`))

/** What one candidate reads near each thing shown: the nearest reading, whether it is within the digits, and all values. */
type Look = { candidate: Candidate; readings: TimedReading[]; sharp: boolean; values: number[] }

/** Holds what each candidate reads against all that was shown. */
export function heldAgainst(candidates: readonly Candidate[], observations: readonly Observation[]): Held {
  let instead: TimedReading | null = null
  const unit = observations.map(({ shown }) => shown.unit).find((each) => each !== null) ?? null
  const looks = candidates.flatMap((candidate) => {
    const closed = closings(candidate, unit).map((each) => ({
      each,
      near: observations.map((at) => nearestOf(each, at)),
    }))
    const fitting = closed.filter(({ near }) => near.every((each) => each?.agrees) && moves(near, observations))
    if (fitting.length === 0) instead ??= closed[0]?.near.at(-1)?.last ?? null
    // What reads the display's own unit needs no other that is nearly as large.
    const own = fitting.filter(({ each }) => isOwnUnit(each, candidate, unit))
    return (own.length > 0 ? own : fitting).map(
      ({ each, near }): Look => ({
        candidate: each,
        readings: near.map((found) => found!.reading),
        sharp: near.every((found) => found!.sharp),
        values: near.flatMap((found) => found!.values),
      }),
    )
  })
  const sharp = looks.filter((look) => look.sharp)
  const different: Look[] = []
  for (const look of sharp.length > 0 ? sharp : looks) {
    const at = different.findIndex(
      (other) => isWithin(look.values, other.values) || isWithin(other.values, look.values),
    )
    if (at < 0) different.push(look)
    else if (isOfWholes(look, different[at]!)) different[at] = look
  }
  const all = observations.flatMap(({ pieces }) => pieces)
  return {
    agreeing: different.map(({ candidate, readings }) => ({ candidate: simplest(candidate, all), readings })),
    instead,
  }
}

const isWithin = (some: readonly number[], all: readonly number[]) => some.every((value) => all.includes(value))

/** Whether `look` reads the same in longer frames, and enough changes say that this is no chance. */
function isOfWholes(look: Look, other: Look): boolean {
  const changes = look.values.filter((value, i) => i > 0 && value !== look.values[i - 1]).length
  return changes >= fewestChanges && look.readings[0]!.frameBytes >= 2 * other.readings[0]!.frameBytes
}

/** The ways to close what is open: with the unit that the display shows, and each step that a power of ten gives. */
function closings(candidate: Candidate, shown: KnownUnit | null): Candidate[] {
  const { unit, scale } = candidate.open
  const names =
    unit === null ? [null] : unit.names.filter((name) => shown === null || isUnit(name, shown, scale !== null))
  const steps = scale === null ? [1] : scales
  return names.flatMap((name) =>
    steps.map((step) => {
      const options: Options = {
        ...candidate.options,
        ...(unit !== null && name !== null ? { [unit.option]: unit.text.replace('#', name) } : {}),
        ...(scale !== null ? { [scale]: step } : {}),
      }
      return { ...candidate, ...trialWith({ ...candidate, open: { unit: null, scale: null } }, options) }
    }),
  )
}

/** Whether a unit that was open is the one that the display shows. */
function isOwnUnit({ options }: Candidate, { open }: Candidate, shown: KnownUnit | null): boolean {
  if (open.unit === null || shown === null) return true
  return open.unit.names.some(
    (name) => knownUnit(name)?.unit === shown.unit && options[open.unit!.option] === open.unit!.text.replace('#', name),
  )
}

/** A line may have another unit than the display, but where its step is open as well, nothing would tell the two apart. */
function isUnit(name: string, shown: KnownUnit, alone: boolean): boolean {
  const unit = knownUnit(name)
  if (unit === null || unit.quantity !== shown.quantity) return false
  return !alone || shown.quantity === 'resistance' || unit.unit === shown.unit
}

type Nearest = { reading: TimedReading; last: TimedReading; agrees: boolean; sharp: boolean; values: number[] } | null

/** Where the display moved, what is read did too: a digit that is too coarse agrees with everything near it. */
function moves(near: readonly Nearest[], observations: readonly Observation[]): boolean {
  const size = (i: number) => Math.abs(observations[i]!.shown.value)
  return near.every((a, i) => near.every((b, j) => size(i) === size(j) || a?.reading.value !== b?.reading.value))
}

/** The reading nearest to what was shown, and whether it agrees: the next one as well, for displays in turn differ. */
function nearestOf(candidate: Candidate, { shown, pieces }: Observation): Nearest {
  const wanted = readPieces(candidate, pieces).readings.filter(({ quantity }) => isMeant(quantity, shown))
  const far = wanted.map((reading) => offBy(reading, shown))
  const best = far.reduce((at, each, i) => (each.of < far[at]!.of ? i : at), 0)
  const reading = wanted[best]
  if (reading === undefined) return null
  const beside = [far[best - 1], far[best + 1]].filter((each) => each !== undefined)
  const within = (most: (each: Off) => boolean) => most(far[best]!) && (beside.length === 0 || beside.some(most))
  return {
    ...{ reading, last: wanted.at(-1)!, values: wanted.map(({ value }) => value) },
    agrees: within(({ of, digits }) => of <= 1 || digits <= 1),
    sharp: within(({ digits }) => digits <= 1),
  }
}

/** Whether a reading is of what was shown: a pressure for a pressure, and a contact's state for ohms too. */
function isMeant(quantity: TimedReading['quantity'], { unit }: Shown): boolean {
  if (unit === null) return true
  return unit.quantity === 'pressure' ? quantity === 'pressure' : quantity !== 'pressure'
}

/** How far a reading is from what was shown, 1 and less agrees: in the digits of either, and in what a hand moves it. */
type Off = { digits: number; of: number }

const same: Off = { digits: 0, of: 0 }
const other: Off = { digits: Number.POSITIVE_INFINITY, of: Number.POSITIVE_INFINITY }

/** The sign that was typed does not count: the line has its own. */
function offBy({ quantity, value, unit, digit }: TimedReading, shown: Shown): Off {
  const factor = (shown.unit ?? knownUnit(unit))?.factor ?? 1
  const size = Math.abs(shown.value) * factor
  if (quantity === 'contact') return (value === 1) === size < openAboveOhm ? same : other
  if (quantity === 'resistance' && size >= openAboveOhm) return Math.abs(value) >= openAboveOhm ? same : other
  if (!Number.isFinite(value) || !Number.isFinite(size)) return Math.abs(value) === size ? same : other
  const apart = Math.abs(Math.abs(value) - size)
  const digits = apart / Math.max(digitsApart * Math.max((shown.digit ?? 0) * factor, digit ?? 0), Number.MIN_VALUE)
  const share = quantity === 'resistance' ? shareOfClips : shareApart
  return { digits, of: Math.min(digits, apart / Math.max(share * size, Number.MIN_VALUE)) }
}
