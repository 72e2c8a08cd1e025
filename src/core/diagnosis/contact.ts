// What the contact itself shows: resistance, film, openings while held, chatter, both throws open.
import { criteria } from '../criteria.table.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { median } from '../statistics/mean.ts'
import { figuresText } from '../text/figures-text.ts'
import { finding, type Rule, sayPressure } from './finding.ts'

export const highResistance: Rule = (c) => {
  const { closuresOhm } = c.resistance
  const { maxOhm } = c.setup.rating
  const limit = maxOhm ?? criteria.doubtfulOhm
  const typical = median(closuresOhm)
  if (typical === null || closuresOhm.length < criteria.closures || typical <= limit) return []
  return [
    finding(
      'high-contact-resistance',
      maxOhm === null ? 'note' : 'fail',
      c.run.tUs,
      `The closed contact measures ${figuresText(typical, 2)} Ω, more than ${limit} Ω. Null the leads and repeat; if it stays reject the switch for signal circuits.`,
      { medianOhm: typical, limitOhm: limit, closures: closuresOhm.length },
    ),
  ]
}

export const contactFilm: Rule = (c) => {
  const { closuresOhm } = c.resistance
  const first = closuresOhm[0]
  const last = closuresOhm.at(-1)
  if (first === undefined || last === undefined || closuresOhm.length <= 1) return []
  if (!(first > criteria.filmRatio * last && first > criteria.filmOhm)) return []
  return [
    finding(
      'contact-film',
      c.setup.rating.maxOhm === null ? 'note' : 'fail',
      c.run.tUs,
      `The contact resistance fell from ${figuresText(first, 2)} Ω to ${figuresText(last, 2)} Ω with use: a film on the contact. Reject the switch for logic-level inputs.`,
      { firstOhm: first, lastOhm: last, closures: closuresOhm.length },
    ),
  ]
}

/** Openings while the pressure holds the switch well above its make. */
export const intermittent: Rule = (c) => {
  const makePa = c.measured.make.estimate.valuePa ?? c.setup.rating.ratedPa
  const openings = c.cycles.flatMap((cycle) => {
    const made = cycle.make
    if (!made || cycle.why === 'chatter') return []
    return cycle.edges.filter(
      (e) => !e.to && e.hiUs > made.hiUs && pressureAt(c.track, e.loUs) > criteria.heldShare * makePa,
    )
  })
  const first = openings[0]
  if (!first) return []
  return [
    finding(
      'intermittent',
      'fail',
      first.hiUs,
      `The contact opened ${openings.length === 1 ? 'once' : `${openings.length} times`} while held above its make. Check the clips; if they are sound reject the switch.`,
      { openings: openings.length, pressurePa: pressureAt(c.track, first.loUs) },
    ),
  ]
}

export const chatter: Rule = (c) => {
  const bad = c.cycles.filter((cycle) => cycle.why === 'chatter')
  const first = bad[0]
  if (!first) return []
  return [
    finding(
      'chatter',
      'undecided',
      first.edges[0]?.hiUs ?? first.span.startUs,
      `The contact changed more than once at a crossing in ${bad.length} of ${c.cycles.length} strokes. Repeat with more ballast; if it is still there reject the switch.`,
      { strokes: bad.length, of: c.cycles.length },
    ),
  ]
}

/** Both throws open for longer, or over more pressure, than a snap switch needs. Only the network sees both throws. */
export const deadBreak: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const limitPa = criteria.deadBreakShare * c.setup.rating.ratedPa
  let start = -1
  for (let i = 0; i <= c.contact.length; i++) {
    if (c.contact[i]?.state === 'neither') {
      if (start < 0) start = i
      continue
    }
    const [from, to] = [c.contact[start], c.contact[i - 1]]
    const before = c.contact[start - 1]?.state
    const after = c.contact[i]?.state
    start = -1
    // Only a passage from one throw to the other is a break; a lead coming loose is not.
    if (!from || !to || before === after || !before?.endsWith('-closed') || !after?.endsWith('-closed')) continue
    const forS = (to.tUs - from.tUs) / 1e6
    const widthPa = Math.abs(pressureAt(c.track, to.tUs) - pressureAt(c.track, from.tUs))
    const readings = i - c.contact.indexOf(from)
    const long = readings > criteria.deadBreakReadings && forS > criteria.deadBreakS
    if (!(long || widthPa > limitPa)) continue
    return [
      finding(
        'dead-break',
        'fail',
        from.tUs,
        `Both throws stayed open for ${forS.toFixed(1)} s over ${sayPressure(c, widthPa)} of a slow stroke: the snap action is worn. Reject the switch.`,
        { forS, widthPa, readings },
      ),
    ]
  }
  return []
}
