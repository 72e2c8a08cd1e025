// Pressures that were typed into findings: that they were, what nobody saw for it, and what does not fit the contact.
import { criteria } from '../../criteria.table.ts'
import { timesOf } from '../../model/columns.ts'
import { toArray } from '../../model/series.ts'
import type { TypedReading } from '../../model/typed.ts'
import { gapUs } from '../../signal/silence.ts'
import { zeroAt } from '../../signal/zero.ts'
import { givenText } from '../../text/figures-text.ts'
import { longSpells } from '../../typed/long-spells.ts'
import { isWrongSign } from '../../typed/typed-session.ts'
import { type Case, type Rule, type Sight, sayPressure, sight } from '../rule.ts'

/** What was typed is told in each test. It decides nothing where the contact says otherwise, and where nobody would see the dangerous fault. */
export const typedPressures: Rule = (c) => {
  const { typed, run } = c
  if (typed === null) {
    const stray = run.typed.items[0]
    if (run.typed.length === 0 || !stray) return []
    const text =
      'Pressures were typed beside a manometer that sends its own: they count for nothing. Repeat the test with one of the two.'
    return [sight('undecided', stray.tUs, text, { typed: run.typed.length })]
  }
  return [
    notMatched(c),
    wrongSign(c),
    tooHigh(c),
    noZero(c),
    notResting(c),
    unheard(c),
    hidden(c),
    blockage(c),
    leak(c),
    told(c),
  ].flatMap((s) => s ?? [])
}

function told(c: Case): Sight | null {
  const { typed, run } = c
  if (typed === null || run.typed.length === 0) return null
  const { reactionS, pacePaPerS } = typed
  const pace = `${sayPressure(c, pacePaPerS)} a second`
  return sight(
    'note',
    run.typed.items[0]!.tUs,
    `The pressures were typed: nobody recorded them between the trips. The pace, at most ${pace}, and the reaction, at most ${givenText(reactionS, 3)} s, are as stated and in U.`,
    { typed: run.typed.length, reactionS, pacePaPerS },
  )
}

/** Changes without a pressure and pressures without a change; a stroke that was discarded may lack its own. */
function notMatched(c: Case): Sight | null {
  const { typed, cycles } = c
  if (typed === null) return null
  const discarded = cycles.filter(({ why }) => why === 'discarded')
  // The last make may still be waiting for its pressure.
  const untyped = typed.untyped.filter(
    (edge) =>
      !discarded.some(({ edges }) => edges.includes(edge)) &&
      (c.run.end !== null || cycles.some(({ edges }) => edges.includes(edge))),
  )
  const extra = typed.unmatched.filter(
    ({ tUs }) =>
      !discarded.some(
        ({ span }, i) => tUs > span.startUs && tUs < (discarded[i + 1]?.span.startUs ?? Number.POSITIVE_INFINITY),
      ),
  )
  const firstUs = Math.min(...untyped.map(({ hiUs }) => hiUs), ...extra.map(({ tUs }) => tUs))
  if (!Number.isFinite(firstUs)) return null
  const said = [
    ...(untyped.length > 0 ? [`the contact changed ${times(untyped.length)} and no pressure was typed`] : []),
    ...(extra.length > 0 ? [`a pressure was typed ${times(extra.length)} and the contact did not change`] : []),
  ].join('; ')
  return sight(
    'undecided',
    firstUs,
    `What was typed does not fit the contact: ${said}. See to the leads, type a pressure at each change, and repeat the test.`,
    { untyped: untyped.length, unmatched: extra.length },
  )
}

const times = (n: number) => (n === 1 ? 'once' : `${n} times`)

/** No switch lets go at more than it makes at. */
function tooHigh(c: Case): Sight | null {
  const odd = c.cycles.filter(
    ({ why, makeValue, breakValue }) =>
      why !== 'discarded' && makeValue && breakValue && breakValue.valuePa >= makeValue.valuePa,
  )
  const first = odd[0]
  if (!first) return null
  return sight(
    'undecided',
    first.span.endUs,
    `In stroke ${odd.map(({ stroke }) => stroke).join(', ')} the break was typed at no less than the make: one of the two is mistyped. Repeat the test.`,
    { strokes: odd.length },
  )
}

/** A trip on the other side of zero. */
function wrongSign(c: Case): Sight | null {
  const { ratedPa } = c.setup.rating
  const odd = toArray(c.run.typed).find(({ tUs, rawPa }) => isWrongSign(rawPa - zeroAt(c.zero, tUs), ratedPa))
  if (!odd) return null
  return sight(
    'undecided',
    odd.tUs,
    `${sayPressure(c, odd.rawPa)} was typed: the sign is wrong, or the hose is on the other port. Discard that stroke, type what the display shows with its sign, and repeat the test.`,
    { pressurePa: odd.rawPa },
  )
}

/** Without a single zero nobody knows what it shows at no pressure. */
function noZero(c: Case): Sight | null {
  if (c.zero.before !== null || c.zero.after !== null || c.run.end === null) return null
  const text =
    'No zero was typed, before the first stroke or after the last. Repeat the test, and type what it shows vented.'
  return sight('undecided', c.run.tUs, text, { zeros: zerosOf(c).length })
}

/** A zero is what it shows vented: one that is no rest is a slip, or a manometer that is off. */
function notResting(c: Case): Sight | null {
  const odd = zerosOf(c).find(({ rawPa }) => Math.abs(rawPa) >= criteria.restShare * c.setup.rating.ratedPa)
  if (!odd) return null
  return sight(
    'undecided',
    odd.tUs,
    `${sayPressure(c, odd.rawPa)} was typed as a zero: open both ports, zero the manometer, and repeat the test.`,
    { pressurePa: odd.rawPa },
  )
}

const zerosOf = ({ run }: Case): TypedReading[] => toArray(run.typed).filter(({ what }) => what === 'zero')

/** The contact is the only witness of the strokes: where it was not read a whole one may be hidden. */
function unheard(c: Case): Sight | null {
  const { contact, run, streams } = c
  const [first, last] = [contact.at(0), contact.at(-1)]
  if (!first || !last) return null
  const longestUs = gapUs(streams.contactIntervalS)
  const times = [first.tUs, ...timesOf(contact), Math.max(last.tUs, run.end?.tUs ?? last.tUs)]
  const at = times.findIndex((tUs, i) => i > 0 && tUs - times[i - 1]! > longestUs)
  if (at < 0) return null
  const [fromUs, toUs] = [times[at - 1]!, times[at]!]
  return sight(
    'undecided',
    fromUs,
    `The contact was not read for ${givenText((toUs - fromUs) / 1e6, 3)} s, and no pressure tells what was drawn then. See to the meter and its lead, and repeat the test.`,
    { silentS: (toUs - fromUs) / 1e6 },
  )
}

/** A stroke without its make or its break leaves nothing to type: only the time tells. */
function hidden({ edges, run }: Case): Sight | null {
  const [first, ...others] = longSpells(edges, toArray(run.typed))
  if (!first) return null
  const { atUs, made, lastedS, usualS } = first
  const what = made ? ['made', 'release'] : ['released', 'make']
  return sight(
    'undecided',
    atUs,
    `The switch stayed ${what[0]} for ${givenText(lastedS, 3)} s, where ${givenText(usualS, 3)} s are usual: a stroke in which it did not ${what[1]} may lie in it, and nobody recorded the pressure. Repeat the test with strokes and rests of even length.`,
    { lastedS, usualS, times: 1 + others.length },
  )
}

/** A blockage switch that does not open leaves no change to type at: nobody would see it. */
function blockage({ setup, run }: Case): Sight | null {
  if (setup.rating.kind !== 'blockage') return null
  return sight(
    'undecided',
    run.tUs,
    'A blockage switch that does not open leaves nothing to type, so typed pressures pass none. Measure it with a manometer that sends.',
    { kind: setup.rating.kind },
  )
}

/** A hold that lost more than a leak may take, two digits aside. */
function leak(c: Case): Sight | null {
  const mostPa = criteria.leakShare * c.setup.rating.ratedPa
  const lossOf = ({ fromPa, toPa, forS, digitPa }: NonNullable<Case['typed']>['holds'][number]) =>
    ((fromPa - toPa - 2 * digitPa) / forS) * secondsInMinute
  const leaks = (c.typed?.holds ?? []).filter((hold) => lossOf(hold) > mostPa)
  const worst = leaks.toSorted((a, b) => lossOf(b) - lossOf(a))[0]
  if (!worst) return null
  return sight(
    'undecided',
    worst.atUs,
    `Held closed, it lost ${sayPressure(c, worst.fromPa - worst.toPa)} in ${givenText(worst.forS, 3)} s: hose or switch leaks. Clamp the hose to find which, and repeat the test.`,
    { lostPa: worst.fromPa - worst.toPa, heldS: worst.forS },
  )
}

const secondsInMinute = 60
