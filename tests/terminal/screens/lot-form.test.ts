// The form of a lot: what a scanner types, what is stated of the surroundings, and what cannot be.
import { describe, expect, test } from 'vitest'
import { schemaMistakes } from '../../../src/commands/check-setup.ts'
import { lotOf, lotSchema } from '../../../src/core/model/lot.ts'
import { createForm, formState } from '../../../src/terminal/screens/form.ts'
import type { FormSpec, Values } from '../../../src/terminal/screens/form-spec.ts'
import { lotJson, lotRows, noneTested, tallied, tallyText } from '../../../src/terminal/screens/lot-form.ts'
import { pasteInto, pressAll, typed } from './press.ts'

const lotSpec: FormSpec = {
  title: 'Test',
  rows: () => lotRows,
  check: (values) => schemaMistakes(lotJson(values), lotSchema),
  done: { short: 'start', does: 'Start.', enter: true },
  back: { short: 'end', does: 'End.' },
  light: true,
}
const lotForm = createForm(lotSpec)
const stated = (values: Values) => lotOf(lotSchema.parse(lotJson(values)))

describe('the form of a lot', () => {
  test('starts with what a scanner types and its Enter, or with what was pasted', () => {
    const { asked } = pressAll(lotForm, formState(lotSpec, {}), ...typed('A?1047'), 'enter')
    expect(stated(asked[0]!.values).serial).toBe('A?1047')
    const pasted = pasteInto(lotForm, formState(lotSpec, {}), '../../x').state.own
    expect(stated(pressAll(lotForm, pasted, 'enter').asked[0]!.values).serial).toBe('../../x')
  })
  test('states temperature, attitude and rest; what is empty is not stated', () => {
    expect(stated({ temperatureC: '21.5', attitude: 'ports down', restH: '8' })).toEqual({
      serial: null,
      conditions: { temperatureC: 21.5, attitude: 'ports down', restS: 28_800 },
      job: {},
    })
    expect(stated({ customer: 'Stove shop', order: '4711' }).job).toEqual({ customer: 'Stove shop', order: '4711' })
    expect(stated({}).conditions).toEqual({ temperatureC: null, attitude: null, restS: null })
  })
  test('does not start with a number that cannot be', () => {
    const mistake = (values: Values) => lotSpec.check(values)[0]?.text
    expect(mistake({ temperatureC: '215' })).toBe('temperature is 215 °C; it must be at most 85 °C.')
    expect(mistake({ restH: 'long' })).toBe('at rest is "long"; it must be a number, such as 8.')
    expect(mistake({ temperatureC: '21,5' })).toBe('temperature is "21,5"; it must be a number with a point: 21.5.')
    expect(mistake({ restH: '-1' })).toBe('at rest is -1 h; it must be at least 0 h.')
    expect(mistake({ serial: 'x'.repeat(101) })).toBe('serial number has 101 characters; it may have 100.')
    expect(pressAll(lotForm, formState(lotSpec, { restH: '-1' }), 'enter')).toMatchObject({ asked: [] })
  })
})

describe('the tally of a lot', () => {
  test('counts what each test came to and names the last one', () => {
    expect(tallyText(noneTested)).toBe('No parts tested yet.')
    const statuses = [0, 0, 1, 2, 0]
    const tally = statuses.reduce((all, status, i) => tallied(all, `A10${i}`, status), noneTested)
    expect(tallyText(tally)).toBe('Tested 5: 3 passed, 1 failed, 1 undecided; last A104 PASSED.')
    expect(tallyText(tallied(noneTested, null, 1))).toBe(
      'Tested 1: 0 passed, 1 failed, 0 undecided; the last one FAILED.',
    )
  })
})
