// The readings of a manometer that is being set up into what they prove of it: noise at rest, sign by a small pull, damping by letting go.
import { criteria } from '../criteria.table.ts'
import { indexAt } from '../statistics/index-at.ts'
import { mean, median, sampleSd } from '../statistics/mean.ts'
import { type ShownSample, type StepResponse, stepResponse } from './step-response.ts'

export type RigCheck = {
  /** At rest, as displayed. `noisePa`: standard deviation of single readings, never below digit/√12. */
  rest: { meanPa: number; noisePa: number } | null
  /** How far the reading went in the last 4 s, as displayed, while no rest has been found because of that; else null. */
  movesPa: number | null
  /** What to write as `suctionSign`, and how far the reading moved, as displayed. */
  sign: { value: 1 | -1; movedPa: number } | null
  step: StepResponse | null
  /** What to do next, in one sentence. */
  next: string
}

/**
 * What `samples`, in order and as displayed, prove so far; those before `fromUs` are not looked at. `digitPa`: the last
 * digit, 0 where it is not known. Empty samples prove nothing.
 */
export function checkRig(samples: readonly ShownSample[], fromUs: number, digitPa: number): RigCheck {
  const since = samples.slice(indexAt(samples, fromUs))
  const rest = findRest(since, digitPa)
  const nothing = { rest: null, movesPa: null, sign: null, step: null }
  if (since.length === 0)
    return { ...nothing, next: 'Waiting for the manometer: nothing that can be read has come yet.' }
  if (rest === null) {
    const movesPa = movedLately(since)
    const still = `eave its ports open to the room and keep still for ${criteria.setUpRestUs / 1e6} s: noise and rest.`
    return { ...nothing, movesPa, next: movesPa === null ? `L${still}` : `It moves: l${still}` }
  }
  const { meanPa, noisePa, endUs } = rest
  const known = { rest: { meanPa, noisePa }, movesPa: null }
  const leastPa = Math.max(criteria.pullNoises * noisePa, criteria.pullDigits * digitPa)
  const after = since.slice(indexAt(since, endUs))
  const sign = findSign(after, meanPa, leastPa)
  if (sign === null)
    return {
      ...known,
      sign,
      step: null,
      next: 'Pull the syringe a little, as in a test: which sign shows what pushes the switch?',
    }
  const step = stepResponse(after, meanPa, criteria.letGoPulls * leastPa)
  if (step === null)
    return {
      ...known,
      sign,
      step,
      next: 'Hold a pressure for some seconds, then pull the hose off at once: the damping.',
    }
  return { ...known, sign, step, next: 'All is measured: Enter takes sign and digit over, r measures again.' }
}

/** The earliest stretch in which the reading moves by its noise alone. */
function findRest(samples: readonly ShownSample[], digitPa: number) {
  for (let i = 0; i < samples.length; i++) {
    const endUs = samples[i]!.tUs + criteria.setUpRestUs
    if (samples.at(-1)!.tUs < endUs) return null
    const pressures = samples.slice(i, indexAt(samples, endUs)).map((s) => s.pressurePa)
    if (pressures.length < criteria.setUpReadings) continue
    const steps = pressures.slice(1).map((p, k) => Math.abs(p - pressures[k]!))
    // Of steps between neighbours, which a slow pull leaves small: 1.4826 × median is a robust standard deviation.
    const stepPa = (1.4826 * (median(steps) ?? 0)) / Math.SQRT2
    const stillPa = Math.max(criteria.setUpDigits * digitPa, criteria.setUpNoises * stepPa)
    if (Math.max(...pressures) - Math.min(...pressures) > stillPa) continue
    const noisePa = Math.max(digitPa / Math.sqrt(12), sampleSd(pressures) ?? 0)
    return { meanPa: mean(pressures) ?? 0, noisePa, endUs }
  }
  return null
}

/** Range of the readings of the last 4 s; null where there are none so old, or too few to tell. */
function movedLately(samples: readonly ShownSample[]): number | null {
  const fromUs = samples.at(-1)!.tUs - criteria.setUpRestUs
  const pressures = samples.slice(indexAt(samples, fromUs)).map((s) => s.pressurePa)
  if (samples[0]!.tUs > fromUs || pressures.length < criteria.setUpReadings) return null
  return Math.max(...pressures) - Math.min(...pressures)
}

/** The first three readings in a row that are off rest on one side. */
function findSign(samples: readonly ShownSample[], restPa: number, leastPa: number): RigCheck['sign'] {
  for (let i = 2; i < samples.length; i++) {
    const moved = samples.slice(i - 2, i + 1).map((s) => s.pressurePa - restPa)
    if (moved.every((m) => m > leastPa) || moved.every((m) => m < -leastPa))
      return { value: moved[2]! > 0 ? 1 : -1, movedPa: moved[2]! }
  }
  return null
}
