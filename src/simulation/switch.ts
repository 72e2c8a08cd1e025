// The diaphragm switch: when it trips, stroke by stroke; what its contacts then do is contact.ts.
import { type ContactTruth, createContact, type Throws } from './contact.ts'
import type { Random } from './random.ts'

export type SwitchTruth = {
  makePa: number
  breakPa: number
  /** Standard deviation of the make and of the break point from stroke to stroke. */
  scatterPa: number
  /** Every other stroke sits this much higher, the others this much lower: a disc that seats in two places. */
  wanderPa: number
  /** Added to the first make after rest: a sticky valve seat; and to the first break. */
  firstStrokePa: number
  firstBreakPa: number
  /** Added to both points with every stroke. */
  driftPaPerStroke: number
  /** Added to both points in the strokes named. */
  shifts: readonly { strokes: readonly number[]; shiftPa: number }[]
  /** In these strokes the mechanism does not move. */
  noMakeIn: readonly number[]
  /** The mechanism does not move: it stays in this state whatever the pressure. */
  stuck: 'rest' | 'actuated' | null
  contact: ContactTruth
}

export type Trip = {
  stroke: number
  transition: 'make' | 'break'
  timeUs: number
  /** Pressure at the diaphragm at which it jumped: the point of this stroke. */
  pressurePa: number
}

export type DiaphragmSwitch = {
  /** Counts a stroke and draws its points. */
  startStroke(): void
  stroke(): number
  /** The pressure whose crossing trips it next, and the direction; null while it does not move. */
  next(): { pressurePa: number; rising: boolean } | null
  /** Make less break of this stroke. */
  differentialPa(): number
  trip(timeUs: number): Trip
  /** Resistance of both throws at a time, Infinity = open, and since when; at most a few seconds before the latest time asked for. */
  throwsAt(timeUs: number): Throws & { sinceUs: number }
}

export function createSwitch(truth: SwitchTruth, random: Random): DiaphragmSwitch {
  let stroke = 0
  let actuated = truth.stuck === 'actuated'
  let points = { makePa: truth.makePa, breakPa: truth.breakPa }
  const contact = createContact(truth.contact, actuated ? 'no' : 'nc', random)
  // Asked at each step of time, so kept and not made each time.
  let next: { pressurePa: number; rising: boolean } | null = null
  const settle = () => {
    const still = truth.stuck !== null || (!actuated && truth.noMakeIn.includes(stroke))
    next = still ? null : { pressurePa: actuated ? points.breakPa : points.makePa, rising: !actuated }
  }
  settle()

  return {
    startStroke() {
      const first = stroke === 0
      const driftPa = truth.driftPaPerStroke * stroke
      const wanderPa = stroke % 2 === 0 ? truth.wanderPa : -truth.wanderPa
      stroke++
      const shifts = truth.shifts.filter(({ strokes }) => strokes.includes(stroke))
      const shiftPa = shifts.reduce((sum, shift) => sum + shift.shiftPa, driftPa + wanderPa)
      points = {
        makePa: truth.makePa + shiftPa + (first ? truth.firstStrokePa : 0) + random.normal(truth.scatterPa),
        breakPa: truth.breakPa + shiftPa + (first ? truth.firstBreakPa : 0) + random.normal(truth.scatterPa),
      }
      settle()
    },
    stroke: () => stroke,
    next: () => next,
    differentialPa: () => points.makePa - points.breakPa,
    trip(timeUs) {
      const trip: Trip = {
        stroke,
        transition: actuated ? 'break' : 'make',
        timeUs,
        pressurePa: actuated ? points.breakPa : points.makePa,
      }
      actuated = !actuated
      contact.move(actuated, stroke, timeUs)
      settle()
      return trip
    },
    throwsAt: contact.throwsAt,
  }
}
