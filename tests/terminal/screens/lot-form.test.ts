// The form of a lot: what a scanner types, what is stated of the surroundings, and what cannot be.
import { describe, expect, test } from 'vitest'
import { createForm, formState } from '../../../src/terminal/screens/form.ts'
import type { FormSpec, Values } from '../../../src/terminal/screens/form-spec.ts'
import { emptyLot, lotMistakes, lotOf, lotRows } from '../../../src/terminal/screens/lot-form.ts'
import { pasteInto, pressAll, typed } from './press.ts'

const lotSpec: FormSpec = {
  title: 'Test',
  rows: () => lotRows,
  check: lotMistakes,
  done: { short: 'start', does: 'Start.', enter: true },
  back: { short: 'end', does: 'End.' },
  light: true,
}
const lotForm = createForm(lotSpec)

describe('the form of a lot', () => {
  test('starts with what a scanner types and its Enter, or with what was pasted', () => {
    const { asked } = pressAll(lotForm, formState(lotSpec, emptyLot), ...typed('A?1047'), 'enter')
    expect(lotOf(asked[0]!.values).serial).toBe('A?1047')
    const pasted = pasteInto(lotForm, formState(lotSpec, emptyLot), '../../x').state.own
    expect(lotOf(pressAll(lotForm, pasted, 'enter').asked[0]!.values).serial).toBe('../../x')
  })
  test('states temperature, attitude and rest; what is empty is not stated', () => {
    expect(lotOf({ ...emptyLot, temperatureC: '21.5', attitude: 'ports down', restH: '8' })).toEqual({
      serial: null,
      conditions: { temperatureC: 21.5, attitude: 'ports down', restS: 28_800 },
    })
    expect(lotOf(emptyLot).conditions).toEqual({ temperatureC: null, attitude: null, restS: null })
  })
  test('does not start with a number that cannot be', () => {
    const mistake = (values: Values) => lotMistakes({ ...emptyLot, ...values })[0]?.text
    expect(mistake({ temperatureC: '215' })).toBe('The temperature is 215 °C; it must be a number from -40 to 85 °C.')
    expect(mistake({ restH: 'long' })).toBe('The time at rest is long h; it must be a number from 0 to 87600 h.')
    expect(mistake({ temperatureC: '21,5' })).toBe(
      'The temperature is 21,5 °C; it must be a number from -40 to 85 °C, with a point: 21.5.',
    )
    expect(mistake({ serial: 'x'.repeat(101) })).toBe('The serial number has 101 characters; it may have 100.')
    expect(pressAll(lotForm, formState(lotSpec, { ...emptyLot, restH: '-1' }), 'enter')).toMatchObject({ asked: [] })
  })
})
