// A blade that moves over into what both throws show in time: open, bouncing, filmed, poor, welded, stuck.
import type { Random } from './random.ts'

export type ContactTruth = {
  /** Clean resistance of a closed throw, and its relative spread from closure to closure. */
  ohm: number
  spread: number
  /** A film on top: this much at the first closure, worn off by a factor e every `filmClosures`. */
  filmOhm: number
  filmClosures: number
  /** Added with every closure: a contact that wears. */
  risePerClosureOhm: number
  /** In these strokes it closes poorly, with so much on top. */
  poor: { strokes: readonly number[]; ohm: number } | null
  /** In these strokes the blade stays where it is at the break, though the diaphragm goes back. */
  sticksIn: readonly number[]
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

export type Contact = {
  /** The mechanism has tripped, in the given stroke. */
  move(actuated: boolean, stroke: number, timeUs: number): void
  /** Resistance of both throws at a time, Infinity = open, and since when; at most a few seconds before the latest time asked for. */
  throwsAt(timeUs: number): Throws & { sinceUs: number }
}

/** How far back a meter may still ask, µs: more than the longest integration time. */
const keptUs = 5e6

export function createContact(truth: ContactTruth, atRest: 'no' | 'nc', random: Random): Contact {
  const closures = { no: 0, nc: 0 }
  let touching = atRest
  let timeline: (Throws & { sinceUs: number })[] = []
  let latestUs = 0

  const ohmOfClosure = (name: 'no' | 'nc', stroke: number) => {
    const film = truth.filmOhm * Math.exp(-closures[name] / truth.filmClosures)
    const worn = truth.risePerClosureOhm * closures[name]
    closures[name]++
    const poorOhm = truth.poor?.strokes.includes(stroke) ? truth.poor.ohm : 0
    return truth.ohm * (1 + Math.abs(random.normal(truth.spread))) + film + worn + poorOhm
  }

  function show(sinceUs: number, closed: 'no' | 'nc' | null, ohm: number) {
    const throwOhm = (name: 'no' | 'nc') => {
      if (truth.deadThrow === name) return Number.POSITIVE_INFINITY
      if (truth.weldedThrow === name) return truth.ohm
      return closed === name ? ohm : Number.POSITIVE_INFINITY
    }
    timeline.push({ sinceUs: Math.round(sinceUs), noOhm: throwOhm('no'), ncOhm: throwOhm('nc') })
  }

  show(0, atRest, ohmOfClosure(atRest, 0))

  return {
    move(actuated, stroke, timeUs) {
      if (!actuated && truth.sticksIn.includes(stroke)) return
      const touched = actuated ? 'no' : 'nc'
      if (touched === touching) return
      const left = touching
      touching = touched
      timeline = timeline.filter((entry) => entry.sinceUs < timeUs)
      const ohm = ohmOfClosure(touched, stroke)
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
      atUs += truth.transferS * 1e6
      show(atUs, touched, ohm)
      if (truth.bounce) flutter(truth.bounce, null)
      if (truth.chatter) flutter(truth.chatter, left)
      if (!actuated || !truth.dropouts) return
      atUs = timeUs + truth.dropouts.afterS * 1e6
      for (let i = 0; i < truth.dropouts.count; i++) {
        atUs += truth.dropouts.everyS * 1e6 * random.between(0.6, 1.4)
        show(atUs, null, ohm)
        atUs += truth.dropouts.forS * 1e6
        show(atUs, touched, ohm)
      }
    },
    throwsAt(timeUs) {
      latestUs = Math.max(latestUs, timeUs)
      while (timeline.length > 1 && timeline[1]!.sinceUs <= latestUs - keptUs) timeline.shift()
      let at = 0
      while (at + 1 < timeline.length && timeline[at + 1]!.sinceUs <= timeUs) at++
      return timeline[at]!
    },
  }
}
