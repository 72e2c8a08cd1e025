// What a recording comes to into its row of the list: verdict, part, serial number, date and damage.
import type { StartEvent } from '../../core/model/event.ts'
import type { Result, Verdict } from '../../core/model/result.ts'
import { damagedText } from '../../core/text/lines-text.ts'
import { recordedText } from '../text/recorded-text.ts'
import { reasonOf } from '../text/verdict-reason.ts'
import { verdictWords } from '../text/words.ts'
import type { Choice } from './pick-list.ts'

/** Places of its columns. */
export const recordingColumns = { verdict: 0, model: 1, serial: 2, date: 3, notes: 4 } as const

/** The row of a recording whose first line is `start`; `name` is its file's, `drivers` what is said of those that changed, `copies` of files that hold the same test. */
export function recordingRow(
  start: StartEvent,
  result: Result,
  name: string,
  drivers: readonly string[] = [],
  copies: readonly string[] = [],
): Omit<Choice<string>, 'value'> {
  const { part, simulated } = start
  const { word, sign, tone } = verdictWords[result.verdict]
  return {
    cells: [
      `${sign} ${word}`,
      part.model ?? part.kind,
      part.serial ?? 'no serial',
      dateText(start.at),
      [
        recordedText(result) && 'verdict changed',
        drivers.length > 0 && 'driver changed',
        copies.length > 0 && 'twice here',
        simulated && 'simulated',
        damageText(result),
      ]
        .filter(Boolean)
        .join(', '),
    ],
    tone,
    about: [
      recordedText(result) ? `${name}, ${recordedText(result)}` : name,
      reasonOf(result, part),
      ...drivers,
      ...copies,
      `Purpose ${start.purpose}, rig ${start.rig.name ?? 'without name'}.`,
      ...namesText(start),
    ],
  }
}

/** The same before anything of it was worked out: what was recorded, marked as such. */
export function recordedRow(
  { start, verdict }: { start: StartEvent; verdict: Verdict | null },
  name: string,
): Omit<Choice<string>, 'value'> {
  const { part, simulated } = start
  return {
    cells: [
      verdict === null ? '…' : `… ${verdictWords[verdict].word}`,
      part.model ?? part.kind,
      part.serial ?? 'no serial',
      dateText(start.at),
      [verdict !== null && 'as recorded', simulated && 'simulated'].filter(Boolean).join(', '),
    ],
    tone: 'dim',
    about: [name, 'It is recalculated while no key is pressed.'],
  }
}

/** Which recording a test follows, and who it is for; what is not stated is left out. */
export function namesText({ continues, repeats, job }: Pick<StartEvent, 'continues' | 'repeats' | 'job'>): string[] {
  const earlier = continues ?? repeats
  const { customer, order } = job ?? {}
  const told = [customer && `customer ${customer}`, order && `order ${order}`].filter(Boolean).join(', ')
  return [
    // The name of a recording ends in the last six digits of its id.
    ...(earlier
      ? [`${continues ? 'Goes on from' : 'Repeats'} the recording whose name ends in ${earlier.slice(-6)}.`]
      : []),
    ...(told === '' ? [] : [`${told.charAt(0).toUpperCase()}${told.slice(1)}.`]),
  ]
}

/** Day and minute of an ISO time, as it was written (UTC); the text itself where it is no such time. */
function dateText(at: string): string {
  return /^\d{4}-\d\d-\d\dT\d\d:\d\d/.test(at) ? `${at.slice(0, 10)} ${at.slice(11, 16)}Z` : at
}

/** What is wrong with the file; empty where it is whole. */
export function damageText({ damage }: Pick<Result, 'damage'>): string {
  const { torn, corruptLines, seal } = damage
  return [
    corruptLines.length > 0 ? damagedText(corruptLines) : '',
    torn ? 'torn' : '',
    seal === 'intact' ? '' : seal === 'broken' ? 'seal broken' : 'no seal',
  ]
    .filter(Boolean)
    .join(', ')
}
