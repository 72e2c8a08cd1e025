import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createHand } from '../../src/simulation/hand.ts'
import { type HandPlan, movesOf } from '../../src/simulation/hand-plan.ts'
import { heedingMoves } from '../../src/simulation/heeding-moves.ts'
import { createRandom } from '../../src/simulation/random.ts'

const { plan } = goodBench()

/** Draws in steps of the hand's own until the plan is over; the switch snaps at 62 Pa up, 47 Pa down. */
function work(change: Partial<HandPlan> = {}, snaps = true) {
  const hand = createHand({ ...plan, unevenness: 0, ...change }, () => 1, createRandom(1))
  const log: { tS: number; pressurePa: number; ratePaPerS: number }[] = []
  const cues: string[] = []
  let timeUs = 0
  let pressurePa = 0
  let actuated = false
  for (;;) {
    const grip = hand.grip(timeUs, pressurePa)
    if (grip === null) return { log, cues, timeS: timeUs / 1e6 }
    if (grip.kind === 'cue') {
      cues.push(grip.cue)
      continue
    }
    if (grip.kind === 'vent') pressurePa = 0
    else {
      const rate = grip.ratePaPerS
      const reachS = grip.untilPa === null || rate === 0 ? grip.lastsS : (grip.untilPa - pressurePa) / rate
      const lastsS = Math.min(grip.lastsS, reachS)
      log.push({ tS: timeUs / 1e6, pressurePa, ratePaPerS: rate })
      pressurePa += rate * lastsS
      timeUs += Math.ceil(lastsS * 1e6)
    }
    if (grip.kind === 'vent') timeUs += Math.ceil(grip.lastsS * 1e6)
    if (snaps && (actuated ? pressurePa <= 47 : pressurePa >= 62)) {
      actuated = !actuated
      hand.hear(timeUs)
    }
  }
}

test('The marks of the flow come in order: one stroke first, then preconditioning with its hold, then the cycles, then zero.', () => {
  const strokes = (count: number) => Array<string>(count).fill('stroke')
  expect(movesOf(plan).flatMap((move) => (move.kind === 'cue' ? [move.cue] : []))).toEqual([
    'zero',
    'first-stroke',
    ...strokes(1),
    'precondition',
    ...strokes(3),
    'hold',
    'cycles',
    ...strokes(8),
    'zero',
  ])
  expect(work().cues.filter((cue) => cue === 'stroke')).toHaveLength(12)
})

test('Inside the trip region the hand is slow or brisk, outside it is quick.', () => {
  const throughTrips = [...plan.slowPaPerS, plan.briskFactor * plan.slowPaPerS[0]!]
  for (const { pressurePa, ratePaPerS } of work().log) {
    if (ratePaPerS > 0 && pressurePa > 0.71 * plan.expectedMakePa && pressurePa < 62)
      expect(throughTrips).toContain(ratePaPerS)
    if (ratePaPerS > 0 && pressurePa < 0.69 * plan.expectedMakePa) expect(ratePaPerS).toBe(plan.quickPaPerS)
    if (ratePaPerS < 0 && pressurePa < 1.29 * plan.expectedBreakPa) expect(throughTrips).toContain(-ratePaPerS)
  }
})

test('After the snap it goes on to the peak; without one it goes on to where it gives up, and ends all the same.', () => {
  const highest = (log: { pressurePa: number }[]) => Math.max(...log.map((step) => step.pressurePa))
  expect(highest(work().log)).toBeCloseTo(plan.peakPa, 6)
  expect(highest(work({}, false).log)).toBeCloseTo(plan.giveUpPa, 6)
})

test('After the cycles come the brisk strokes, so many times as fast; the preconditioning hold lasts its time.', () => {
  const { log, timeS } = work({ slowPaPerS: [1], briskStrokes: 2, briskFactor: 2.5, holdInPreconditionS: 10 })
  const brisk = log.filter((step) => step.ratePaPerS === 2.5)
  expect(brisk.length).toBeGreaterThan(20)
  expect(brisk[0]!.tS).toBeGreaterThan(timeS / 2)
  expect(brisk[0]!.tS).toBeGreaterThan(log.findLast((step) => step.ratePaPerS === 1)!.tS)
  expect(timeS - work({ slowPaPerS: [1], briskFactor: 2.5, holdInPreconditionS: 0 }).timeS).toBeCloseTo(
    10 - plan.peakHoldS + (plan.peakPa - plan.leakHoldPa) * (-2 / plan.quickPaPerS),
    1,
  )
})

test('A key that discards comes right after its stroke; paces of their own differ from stroke to stroke by no more than stated.', () => {
  const cues = movesOf({ ...plan, discards: [5] }).flatMap((move) => (move.kind === 'cue' ? [move.cue] : []))
  expect(cues.slice(cues.indexOf('discard-cycle') - 1).filter((c) => c === 'stroke')).toHaveLength(12 - 5 + 1)
  const rates = work({ slowPaPerS: [1], briskStrokes: 0, paceSpread: 0.3 }).log.flatMap((step) =>
    step.ratePaPerS > 0 && step.ratePaPerS < 3 ? [step.ratePaPerS] : [],
  )
  expect(new Set(rates).size).toBe(10)
  expect(Math.min(...rates)).toBeGreaterThanOrEqual(0.7)
  expect(Math.max(...rates)).toBeLessThanOrEqual(1.3)
  expect(Math.max(...rates) - Math.min(...rates)).toBeGreaterThan(0.2)
})

test('Counted cycles take the slow rates in turn; a reversal goes back before each make.', () => {
  const rates = new Set(work({ slowPaPerS: [0.8, 2.4], briskStrokes: 0 }).log.map((step) => step.ratePaPerS))
  expect([...rates]).toEqual(expect.arrayContaining([0.8, 2.4]))
  const turned = work({ reversalPa: 3 }).log
  const backwards = turned.filter((step) => step.ratePaPerS < 0 && step.pressurePa > 55 && step.pressurePa < 59.2)
  expect(backwards.length).toBeGreaterThanOrEqual(10)
})

test('The faster strokes come last, so many times as fast as the first slow rate, up and down.', () => {
  const { log } = work({ slowPaPerS: [1.2, 2], briskStrokes: 2, briskFactor: 2.5 })
  const fast = log.filter((step) => Math.abs(step.ratePaPerS) === 3)
  expect(new Set(fast.map((step) => Math.sign(step.ratePaPerS)))).toEqual(new Set([1, -1]))
  const slow = log.filter((step) => Math.abs(step.ratePaPerS) === 1.2 || Math.abs(step.ratePaPerS) === 2)
  expect(fast[0]!.tS).toBeGreaterThan(slow.at(-1)!.tS)
})

test('An uneven hand keeps its mean rate, a pausing one stands still now and then.', () => {
  const slow = work({ unevenness: 0.2, slowPaPerS: [1] }).log.filter((s) => s.ratePaPerS > 0 && s.ratePaPerS < 3)
  const mean = slow.reduce((sum, step) => sum + step.ratePaPerS, 0) / slow.length
  expect(new Set(slow.map((step) => step.ratePaPerS)).size).toBeGreaterThan(100)
  expect(mean).toBeGreaterThan(0.85)
  expect(mean).toBeLessThan(1.15)
  const still = (log: { ratePaPerS: number }[]) => log.filter((step) => step.ratePaPerS === 0).length
  expect(still(work({ pauses: { everyS: 10, forS: 0.8 } }).log)).toBeGreaterThan(still(work().log) + 5)
})

test('A hand that follows the screen holds a preconditioning stroke where a hold is asked for, and no other.', () => {
  const heard = ['zero', 'first-stroke', 'precondition'] as Parameters<typeof heedingMoves>[1][number][]
  const moves = heedingMoves({ ...plan, holdInPreconditionS: 0 }, heard, 1)
  const heldS: number[] = []
  for (const move of moves) {
    if (move.kind === 'hold') heldS.push(move.forS)
    if (heldS.length === 1 && !heard.includes('hold')) heard.push('hold')
    if (heldS.length === 3) break
  }
  expect(heldS).toEqual([plan.peakHoldS, 11, plan.peakHoldS])
})
