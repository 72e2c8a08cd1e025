// The form before each test of a lot: the serial number each time, the surroundings once.
import { fieldsOf } from '../../core/model/fields.ts'
import { lotSchema } from '../../core/model/lot.ts'
import { cleanText } from '../text/text.ts'
import { type Json, jsonOf } from './form-json.ts'
import type { FormRow, Values } from './form-spec.ts'
import { type Layout, setupFields } from './setup-fields.ts'
import { setupRows } from './setup-rows.ts'

const layout: Layout = {
  besides: { serial: { more: 'Enter starts the test. A tag, or the number of a report, opens its part.', width: 40 } },
}
const fields = setupFields(fieldsOf(lotSchema), layout)

export const lotRows: readonly FormRow[] = setupRows(fields, layout)

/** What the values state, as `lotSchema` has it. */
export const lotJson = (values: Values): Json => jsonOf({}, values, fields)

/** What became of the parts of a lot so far. */
export type Tally = {
  passed: number
  failed: number
  undecided: number
  last: { serial: string | null; word: string } | null
}

export const noneTested: Tally = { passed: 0, failed: 0, undecided: 0, last: null }

/** The tally with one more part in it, by the exit status of its test. */
export function tallied(tally: Tally, serial: string | null, status: number): Tally {
  const of = status === 0 ? 'passed' : status === 1 ? 'failed' : 'undecided'
  return { ...tally, [of]: tally[of] + 1, last: { serial, word: of.toUpperCase() } }
}

/** The tally in one sentence. */
export function tallyText({ passed, failed, undecided, last }: Tally): string {
  if (last === null) return 'No parts tested yet.'
  const tested = passed + failed + undecided
  const which = last.serial === null ? 'the last one' : `last ${cleanText(last.serial)}`
  return `Tested ${tested}: ${passed} passed, ${failed} failed, ${undecided} undecided; ${which} ${last.word}.`
}
