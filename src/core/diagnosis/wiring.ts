// Leads, terminals, ports and switch contacts that never do what the test expects of them.

import type { Analysis } from '../analyse.ts'
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import { isActuated } from '../model/pair.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { indexAt } from '../statistics/index-at.ts'
import { median } from '../statistics/mean.ts'
import { isInverted } from '../strokes/cycles.ts'
import { kickSeen, tripSurface } from '../trips/kick.ts'
import { type Case, type Found, finding, hasTransition, peakPa, type Rule, sayPressure } from './finding.ts'
import { neverMakesPa } from './never-makes.ts'

/** The pair is seen the wrong way round: at rest on the rise, actuated on the fall. */
export const wrongPair: Rule = (c) => {
  const inverted = c.cycles.filter(isInverted)
  if (inverted.length === 0 || inverted.length < c.cycles.length / 2) return []
  const tUs = inverted[0]!.edges[0]!.hiUs
  const evidence = { strokes: inverted.length, wired: c.setup.rig.pair }
  if (c.setup.rig.pair === 'com-nc')
    return [
      finding(
        'on-no-pair',
        'void',
        tUs,
        'The contact is open at rest and closes as the pressure rises: the leads sit on COM and NO. Move the lead from NO to NC and start again.',
        evidence,
      ),
    ]
  return [
    finding(
      'on-nc-pair',
      'void',
      tUs,
      'The contact is closed at rest and opens as the pressure rises: the leads sit on COM and NC. Move the lead from NC to NO and start again.',
      evidence,
    ),
  ]
}

/** Suction here never trips it, but pressure the other way does. */
export const wrongPort: Rule = (c) => {
  if (c.cycles.some((cycle) => cycle.edges.length > 0 && cycle.make)) return []
  const limitPa = -criteria.restShare * c.setup.rating.ratedPa
  const edge = c.edges.find((e) => e.to && pressureAt(c.track, e.hiUs) < limitPa)
  if (!edge) return []
  const atPa = pressureAt(c.track, edge.hiUs)
  return [
    finding(
      'wrong-port',
      'void',
      edge.hiUs,
      `The switch trips at ${sayPressure(c, atPa)}, the wrong way round. Check the sign of the manometer (suctionSign) first, then move the hose to the other port and mark it.`,
      { pressurePa: atPa },
    ),
  ]
}

/** No transition in any stroke: the network, or the kick, says whether the mechanism moved. */
export const noTransition: Rule = (c) => {
  const spans = [...c.strokes, ...(c.openStroke ? [c.openStroke] : [])]
  const first = spans[0]
  if (!first || hasTransition(c) || c.contact.length === 0 || stuckSpell(c) !== null) return []
  const { rating, rig } = c.setup
  const limitPa = neverMakesPa(rating, rig)
  const reachedPa = peakPa(c)
  const evidence = { reachedPa, limitPa }
  if (rig.pair === 'network') {
    if (c.contact.some((s) => s.state === 'both')) return []
    if (sawOpenAbove(c, rating.ratedPa) && sawRest(c)) {
      const text = `NC opened but NO never closed up to ${sayPressure(c, reachedPa)}: the NO contact is dead. Reject the switch.`
      return [finding('never-makes', 'fail', first.peakUs, text, evidence)]
    }
  }
  const found = spans.flatMap((span) => strokeKick(c, span) ?? [])
  const typicalPa = median(found.map((k) => k.atPa)) ?? 0
  // The mechanism moves at one pressure; a change of the hand's pace that looks like a kick does so anywhere.
  const kicks = found.filter((k) => Math.abs(k.atPa - typicalPa) < criteria.blindKickShare * rating.ratedPa)
  const repeated = kicks.length >= Math.max(criteria.blindKicks, spans.length / 2)
  const open = c.contact.every((s) => ['open', 'neither', 'lead-off', 'unknown'].includes(s.state))
  if (repeated && open) {
    const kickPa = kicks.reduce((sum, k) => sum + k.sizePa, 0) / kicks.length
    const text =
      'The mechanism kicks but the contact never changes: one lead is not on COM. Move one lead to COM and start again.'
    return [
      finding('no-common', 'void', first.peakUs, text, { strokes: spans.length, kickPa, noisePa: c.zero.noisePa }),
    ]
  }
  // NO closed throughout is no switch that never makes.
  if (rig.pair === 'com-no' && !open) return []
  if (reachedPa < limitPa) return []
  const hint = repeated
    ? 'though the mechanism moved: check terminals and leads'
    : 'and no kick: check the port, the hose and the diaphragm'
  const text = `No trip up to ${sayPressure(c, reachedPa)}, ${hint}.`
  return [finding('never-makes', 'undecided', first.peakUs, text, { ...evidence, kicks: kicks.length })]
}

/** Whether a stroke, the one in progress included, shows the mechanism's kick while the contact has never changed. */
export function movedWithoutContact(c: Analysis): boolean {
  const spans = [...c.strokes, ...(c.openStroke ? [c.openStroke] : [])]
  if (spans.length === 0 || c.contact.length === 0 || c.edges.length > 0) return false
  return spans.some((span) => strokeKick(c, span) !== null)
}

// A change of the hand's pace looks like a kick seen through a slow manometer: without an edge to go by, only a sharp step counts.
const sharpDampingsS = [0, 0.1, 0.2, 0.3] as const

/** The kick on the way up of a stroke and the pressure at it, Pa; null where none stands out. Without an edge every moment is possible. */
function strokeKick(c: Analysis, { startUs, peakUs, peakPa }: Stroke): { sizePa: number; atPa: number } | null {
  const samples = c.streams.fresh
    // The turn at the peak is a change of pace and no kick.
    .filter((s) => s.tUs >= startUs && s.tUs <= peakUs && s.pressurePa < criteria.blindKickPeakShare * peakPa)
    .map((s) => ({ tS: s.tUs / 1e6, pressurePa: s.pressurePa, extraVar: s.extraVar }))
  if (samples.length < criteria.blindKickReadings) return null
  const largestPa = criteria.kickShare * c.setup.rating.ratedPa
  const surface = tripSurface(samples, startUs / 1e6 + 1, peakUs / 1e6, 1, c.ramp, largestPa, sharpDampingsS)
  if (!kickSeen(surface, c.ramp)) return null
  const likely = surface.cells.reduce((a, b) => (Math.max(...b.logLiks) > Math.max(...a.logLiks) ? b : a))
  const dampingS = sharpDampingsS[likely.logLiks.indexOf(Math.max(...likely.logLiks))] ?? 0
  const { sizePa } = surface.kick
  // A hand that slows down, always at the same pressure of its plan, bends the ramp; only a kick makes the reading fall.
  if (sizePa < likely.before.vPaPerS * dampingS) return null
  return { sizePa, atPa: likely.before.pPa }
}

function sawRest(c: Case): boolean {
  return c.contact.some((s) => s.state === 'nc-closed')
}

function sawOpenAbove(c: Case, ratedPa: number): boolean {
  return c.contact.some((s) => s.state === 'neither' && pressureAt(c.track, s.tUs) > ratedPa)
}

/** The first stay in the actuated state while vented that is too long, µs, and where it began; null where there is none. */
function stuckSpell(c: Case): { sinceUs: number; forUs: number } | null {
  const { rating, rig } = c.setup
  if (rig.pair === 'com-nc') return null
  const vented = Math.max(criteria.stuckShare * rating.ratedPa, criteria.stuckNoises * c.zero.noisePa)
  let sinceUs: number | null = null
  for (const { tUs, state } of c.contact) {
    const stuck =
      isActuated(state, rig.pair) === true && isWatched(c, tUs) && Math.abs(pressureAt(c.track, tUs)) < vented
    if (!stuck) sinceUs = null
    else if (sinceUs === null) sinceUs = tUs
    else if (tUs - sinceUs > criteria.stuckUs) return { sinceUs, forUs: tUs - sinceUs }
  }
  return null
}

/** Whether the manometer was heard near `tUs`: while it is silent nobody knows that the switch is vented. */
function isWatched(c: Case, tUs: number): boolean {
  const i = indexAt(c.track, tUs)
  return [c.track[i - 1], c.track[i]].some((s) => s !== undefined && Math.abs(s.tUs - tUs) < criteria.stuckWatchedUs)
}

/** NO stays closed with no pressure on the switch. */
export const stuckClosed: Rule = (c) => {
  const stuck = stuckSpell(c)
  // A pair seen the wrong way round is closed at rest too, and opens: that is another finding. Only a stroke tells them apart.
  if (
    stuck === null ||
    c.cycles.length === 0 ||
    c.cycles.some(isInverted) ||
    c.edges.some(
      (e) =>
        !e.to &&
        pressureAt(c.track, e.hiUs) > criteria.restShare * c.setup.rating.ratedPa &&
        !c.cycles.some((cy) => cy.make),
    )
  )
    return []
  return [
    finding(
      'stuck-closed',
      'fail',
      stuck.sinceUs,
      'NO stays closed with the switch vented. Reject it, disable its tabs and quarantine it: in service it would let a fire burn without draft.',
      { forS: stuck.forUs / 1e6 },
    ),
  ]
}

/** What the network alone can see: both throws closed, or a lead off. */
export const networkStates: Rule = (c) => {
  if (c.setup.rig.pair !== 'network') return []
  const found: Found[] = []
  const both = c.contact.filter((s, i) => s.state === 'both' && c.contact[i - 1]?.state === 'both')
  if (both.length > 0)
    found.push(
      finding(
        'both-closed',
        'fail',
        both[0]!.tUs,
        'NO and NC are closed together: bridged, welded or wet contacts. Look for a bridge between the tabs; if there is none reject the switch.',
        { readings: both.length + 1 },
      ),
    )
  const off = c.contact.filter((s) => s.state === 'lead-off' || s.state === 'shorted')
  if (off.length > 0) {
    const enough = c.cycles.filter((cycle) => cycle.used).length >= criteria.fewestCycles
    const what = off[0]!.state === 'shorted' ? 'are shorted' : 'are off'
    found.push(
      finding(
        'lead-off',
        enough ? 'note' : 'undecided',
        off[0]!.tUs,
        `At times the leads of the network ${what}: those cycles do not count. Fasten the clips and repeat what is missing.`,
        { readings: off.length, state: off[0]!.state },
      ),
    )
  }
  return found
}
