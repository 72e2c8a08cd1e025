// The diaphragm switch: when it trips, stroke by stroke, and what its contacts then do in time.
import type { Random } from './random.ts'

export type SwitchTruth = {
  makePa: number
  breakPa: number
  /** Standard deviation of the make and of the break point from stroke to stroke. */
  scatterPa: number
  /** Every other stroke sits this much higher, the others this much lower: a disc that seats in two places. */
  wanderPa: number
  /** Added to the first make after rest: a sticky valve seat. */
  firstStrokePa: number
  /** Added to both points with every stroke. */
  driftPaPerStroke: number
  /** The mechanism does not move: it stays in this state whatever the pressure. */
  stuck: 'rest' | 'actuated' | null
  contact: ContactTruth
}

export type ContactTruth = {
  /** Clean resistance of a closed throw, and its relative spread from closure to closure. */
  ohm: number
  spread: number
  /** A film on top: this much at the first closure, worn off by a factor e every `filmClosures`. */
  filmOhm: number
  filmClosures: number
  /** Both throws open for this long while the blade moves over. */
  transferS: number
  /** After each closure the contact rebounds open for `forS` in all, in pieces of about `dwellS`. */
  bounce: Flutter | null
  /** After each trip the blade swings between both throws: a mechanism that cannot decide. */
  chatter: Flutter | null
  /** Single openings while held actuated: `count` of them about `everyS` apart, from `afterS` after the make. */
  dropouts: { afterS: number; everyS: number; count: number; forS: number } | null
  /** A throw that never conducts, or never lets go. */
  deadThrow: 'no' | 'nc' | null
  weldedThrow: 'no' | 'nc' | null
}

export type Flutter = { forS: number; dwellS: number }

export type Throws = { noOhm: number; ncOhm: number }

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
  /** The pressure whose crossing trips it next, and the direction; null while it is stuck. */
  next(): { pressurePa: number; rising: boolean } | null
  trip(timeUs: number): Trip
  /** Resistance of both throws at a time, Infinity = open, and since when; times must not decrease from call to call. */
  throwsAt(timeUs: number): Throws & { sinceUs: number }
}

export function createSwitch(truth: SwitchTruth, random: Random): DiaphragmSwitch {
  const { contact } = truth
  let stroke = 0
  const closures = { no: 0, nc: 0 }
  let actuated = truth.stuck === 'actuated'
  let points = { makePa: truth.makePa, breakPa: truth.breakPa }
  let timeline: (Throws & { sinceUs: number })[] = []

  const ohmOfClosure = (name: 'no' | 'nc') => {
    const film = contact.filmOhm * Math.exp(-closures[name] / contact.filmClosures)
    closures[name]++
    return contact.ohm * (1 + Math.abs(random.normal(contact.spread))) + film
  }

  function show(sinceUs: number, closed: 'no' | 'nc' | null, ohm: number) {
    const throwOhm = (name: 'no' | 'nc') => {
      if (contact.deadThrow === name) return Number.POSITIVE_INFINITY
      if (contact.weldedThrow === name) return contact.ohm
      return closed === name ? ohm : Number.POSITIVE_INFINITY
    }
    timeline.push({ sinceUs: Math.round(sinceUs), noOhm: throwOhm('no'), ncOhm: throwOhm('nc') })
  }

  function moveContacts(timeUs: number) {
    timeline = timeline.filter((entry) => entry.sinceUs < timeUs)
    const touched = actuated ? 'no' : 'nc'
    const left = actuated ? 'nc' : 'no'
    const ohm = ohmOfClosure(touched)
    let atUs = timeUs
    const flutter = ({ forS, dwellS }: Flutter, between: 'no' | 'nc' | null) => {
      const settledUs = atUs + forS * 1e6
      for (let away = true; ; away = !away) {
        atUs += dwellS * 1e6 * random.between(0.6, 1.4)
        if (atUs >= settledUs) break
        show(atUs, away ? between : touched, ohm)
      }
      atUs = settledUs
      show(atUs, touched, ohm)
    }

    show(atUs, null, ohm)
    atUs += contact.transferS * 1e6
    show(atUs, touched, ohm)
    if (contact.bounce) flutter(contact.bounce, null)
    if (contact.chatter) flutter(contact.chatter, left)
    if (!actuated || !contact.dropouts) return
    atUs = timeUs + contact.dropouts.afterS * 1e6
    for (let i = 0; i < contact.dropouts.count; i++) {
      atUs += contact.dropouts.everyS * 1e6 * random.between(0.6, 1.4)
      show(atUs, null, ohm)
      atUs += contact.dropouts.forS * 1e6
      show(atUs, touched, ohm)
    }
  }

  const restThrow = actuated ? 'no' : 'nc'
  show(0, restThrow, ohmOfClosure(restThrow))

  return {
    startStroke() {
      const shiftPa = truth.driftPaPerStroke * stroke + (stroke % 2 === 0 ? truth.wanderPa : -truth.wanderPa)
      const firstPa = stroke === 0 ? truth.firstStrokePa : 0
      stroke++
      points = {
        makePa: truth.makePa + shiftPa + firstPa + random.normal(truth.scatterPa),
        breakPa: truth.breakPa + shiftPa + random.normal(truth.scatterPa),
      }
    },
    stroke: () => stroke,
    next: () => (truth.stuck ? null : { pressurePa: actuated ? points.breakPa : points.makePa, rising: !actuated }),
    trip(timeUs) {
      const trip: Trip = {
        stroke,
        transition: actuated ? 'break' : 'make',
        timeUs,
        pressurePa: actuated ? points.breakPa : points.makePa,
      }
      actuated = !actuated
      moveContacts(timeUs)
      return trip
    },
    throwsAt(timeUs) {
      while (timeline.length > 1 && timeline[1]!.sinceUs <= timeUs) timeline.shift()
      return timeline[0]!
    },
  }
}
