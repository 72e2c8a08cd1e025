// Forms: fields filled in and checked as they are typed, and the part form with its file.

import { describe, expect, test } from 'vitest'
import { partMistakes } from '../../../src/commands/check-setup.ts'
import { partDoubts } from '../../../src/commands/doubt-setup.ts'
import { createForm, formState } from '../../../src/terminal/screens/form.ts'
import type { FormSpec, Values } from '../../../src/terminal/screens/form-spec.ts'
import { partFollow, partJson, partRows, partValues } from '../../../src/terminal/screens/part-form.ts'
import { pasteInto, pressAll, rowsOf, typed } from './press.ts'

const partSpec: FormSpec = {
  title: 'New part',
  rows: () => partRows(false),
  follow: partFollow,
  check: (values) => {
    const json = partJson({}, values)
    return [...partMistakes(json), ...partDoubts(json)]
  },
  done: { short: 'save', does: 'Save.', enter: false },
  back: { short: 'back', does: 'Back.' },
}
const partForm = createForm(partSpec)
const newPart = () => formState(partSpec, partValues({}))
const atRated = ['down', 'down', 'down']
const whole = {
  model: 'DP-62',
  lot: '24W31',
  kind: 'draft-proving',
  rated: { value: 0.25, unit: 'inH2O', on: 'make' },
  limits: {
    make: { low: 0.22, high: 0.28, unit: 'inH2O' },
    break: { low: 37, high: null, unit: 'Pa' },
  },
  contact: { maxOhm: 2 },
  proof: { value: 10, unit: 'inH2O' },
} as const

describe('the form of a part', () => {
  test('names value, unit and limit of what is wrong, as it is typed, and mends as it is mended', () => {
    const wrong = pressAll(partForm, newPart(), ...atRated, ...typed('-1'))
    expect(partSpec.check(wrong.own.values).map(({ text }) => text)).toEqual([
      'rated point is -1 inH2O; it must be more than 0 inH2O.',
    ])
    const mended = pressAll(partForm, wrong.own, 'backspace', 'backspace', ...typed('0.25'))
    expect(partSpec.check(mended.own.values)).toEqual([])
  })
  test('is typed into where the cursor is, which a field that is come to has behind its text', () => {
    const state = { ...newPart(), at: 'model' }
    const value = (...keys: string[]) => pressAll(partForm, state, ...keys).own.values['model']
    expect(value(...typed('DP-2'), 'left', '6')).toBe('DP-62')
    expect(value(...typed('XDP'), 'home', 'delete', 'end', ...typed('-62'))).toBe('DP-62')
    expect(value(...typed('draft switch'), 'ctrl-w', 'backspace')).toBe('draft')
    expect(value(...typed('old'), 'ctrl-u', ...typed('new'))).toBe('new')
    expect(value(...typed('ab'), 'ctrl-a', 'tab', 'shift-tab', 'c')).toBe('abc')
    expect(pasteInto(partForm, pressAll(partForm, state, ...typed('ad'), 'left').own, 'bc').state.own.values).toEqual(
      expect.objectContaining({ model: 'abcd' }),
    )
  })
  test.each([
    [80, 24],
    [40, 12],
  ])('scrolls a text that is longer than its field with the cursor at %s × %s', (columns, height) => {
    const text = 'an adapter with a long name at /dev/serial/by-id/usb-0001'
    const behind = pressAll(partForm, { ...newPart(), at: 'model' }, ...typed(text)).own
    const row = (state: typeof behind) => rowsOf(partForm, state, columns, height).find((r) => r.includes('model'))
    expect(row(behind)).toMatch(/model +….*usb-0001( |$)/)
    expect(row(pressAll(partForm, behind, 'home').own)).toMatch(/model +an adapter.*…( |$)/)
    const middle = pressAll(partForm, behind, ...Array.from({ length: 26 }, () => 'left'))
    expect(row(middle.own)).toMatch(/model +….*\/dev\/.*…( |$)/)
  })
  test('is not saved while something is wrong, and says what', () => {
    const { asked, said } = pressAll(partForm, newPart(), ...atRated, ...typed('1e'), 'ctrl-s')
    expect(asked).toEqual([])
    expect(said).toBe('Ctrl-S save: not now, rated point is "1e"; it must be a number, such as 0.25.')
  })
  test('makes the file that is asked for: a limit with one side has null on the other, one without is left out', () => {
    const { asked } = pressAll(
      partForm,
      newPart(),
      ...atRated,
      ...typed('0.25'),
      'down',
      'tab',
      ...typed('.28'),
      'ctrl-s',
    )
    expect(partJson({}, asked[0]!.values)).toEqual({
      kind: 'draft-proving',
      rated: { unit: 'inH2O', on: 'make', value: 0.25 },
      limits: { make: { low: null, high: 0.28, unit: 'inH2O' } },
    })
  })
  test('gives a file that was opened and not changed back as it was', () => {
    expect(partJson(whole, partValues(whole))).toEqual(whole)
    expect(JSON.stringify(partJson(whole, partValues(whole)))).toBe(JSON.stringify(whole))
  })
  test('lets the unit of an empty row follow that of the rated point, and leaves one with a number alone', () => {
    const state = formState(partSpec, partValues({ ...whole, proof: null }))
    const { values } = pressAll(partForm, { ...state, at: 'rated.unit' }, 'p', 'p').own
    expect(values).toMatchObject({ 'rated.unit': 'Pa', 'proof.unit': 'Pa', 'limits.make.unit': 'inH2O' })
  })
  test('finds a rated point outside its own limits, and a limit that is upside down', () => {
    const mistakes = (change: Values) => partSpec.check({ ...partValues(whole), ...change })
    expect(mistakes({ 'rated.value': '0.5' })).toEqual([
      {
        field: 'rated.value',
        text: 'rated point is 0.5 inH2O; it must be within make limits 0.22 to 0.28 inH2O: check the units.',
      },
    ])
    expect(mistakes({ 'limits.make.low': '0.3' })[0]).toMatchObject({
      field: 'limits.make',
      text: 'make limits: low 0.3 inH2O is not below high 0.28 inH2O.',
    })
    expect(mistakes({ 'contact.maxOhm': '0' })[0]?.text).toBe('contact at most is 0 ohm; it must be more than 0 ohm.')
  })
  test('refuses a pressure that nothing can draw, and doubts one that no such switch has, without standing in the way', () => {
    const told = (change: Values) => partSpec.check({ ...partValues({}), ...change })
    expect(told({ 'rated.value': '1e9' })).toEqual([
      {
        field: 'rated.value',
        text: 'rated point is 1000000000 inH2O; it must be at most 407 inH2O, the pressure of the air.',
      },
    ])
    expect(told({ 'rated.value': '1', 'limits.make.high': '5000' })[0]?.text).toBe(
      'make limits high is 5000 inH2O; it must be at most 407 inH2O, the pressure of the air.',
    )
    const doubted = told({ 'rated.value': '25' })
    expect(doubted).toMatchObject([{ field: 'rated.value', doubt: true }])
    expect(doubted[0]?.text).toBe(
      'rated point is 25 inH2O; usual are 0.005 inH2O to 10 inH2O: are number and unit those on the label?',
    )
    for (const usual of ['0.02', '0.25', '5']) expect(told({ 'rated.value': usual })).toEqual([])
    const state = pressAll(partForm, newPart(), ...atRated, ...typed('25'), 'ctrl-s')
    expect(state.asked).toMatchObject([{ by: 'done' }])
    const shown = rowsOf(partForm, state.own).join('\n')
    expect(shown).toContain('! rated point is 25 inH2O')
    expect(shown).not.toContain('Nothing is wrong')
  })
  test('refuses a break that would lie above the make', () => {
    const values = { ...partValues(whole), 'limits.break.low': '0.3', 'limits.break.unit': 'inH2O' }
    expect(partSpec.check(values)).toEqual([
      {
        field: 'limits.break.low',
        text:
          'break limits low is 0.3 inH2O; it must be at most make limits high 0.28 inH2O, ' +
          'because a switch breaks below where it makes.',
      },
    ])
    expect(partSpec.check({ ...values, 'limits.break.low': '69', 'limits.break.unit': 'Pa' })).toEqual([])
  })
  test('asks for a point where a comma was typed', () => {
    const { own } = pressAll(partForm, newPart(), ...atRated, ...typed('0,25'))
    expect(partSpec.check(own.values)[0]?.text).toBe('rated point is "0,25"; it must be a number with a point: 0.25.')
  })
  test('goes to the first field that is wrong when it is to be saved', () => {
    const values = { ...partValues(whole), 'proof.value': '0.1', 'contact.maxOhm': 'x' }
    const { own, asked, said } = pressAll(partForm, formState(partSpec, values), 'ctrl-s')
    expect(own.at).toBe('contact.maxOhm')
    expect(asked).toEqual([])
    expect(said).toBe('Ctrl-S save: not now, contact at most is "x"; it must be a number, such as 2.')
  })
  test('says how many more mistakes there are where not all have room, that of the field in hand first', () => {
    const wrong = [
      'rated.value',
      'limits.make.low',
      'limits.make.high',
      'limits.break.low',
      'proof.value',
      'contact.maxOhm',
    ]
    const values = { ...partValues(whole), ...Object.fromEntries(wrong.map((name) => [name, 'x'])) }
    const shown = rowsOf(partForm, { ...formState(partSpec, values), at: 'proof.value' }, 80, 24).join('\n')
    expect(shown).toContain('✗ proof pressure is "x"; it must be a number, such as 10.')
    expect(shown).toMatch(/and [23] more/)
    const small = rowsOf(partForm, { ...formState(partSpec, values), at: 'proof.value' }, 50, 14).join('\n')
    expect(small).toMatch(/✗ proof pressure is "x"; it must be a number,\n such as 10\./)
    expect(small).toMatch(/ high x +inH2O +✗\n/)
    expect(small).toContain('and 5 more')
  })
  test.each([
    [140, 45],
    [80, 24],
    [50, 14],
    [40, 12],
  ])('shows the field in hand and what is typed into it at %s × %s', (columns, height) => {
    for (const { name, kind } of partRows(true).flatMap(({ fields }) => fields)) {
      const form = createForm({ ...partSpec, rows: () => partRows(true) })
      const state = { ...newPart(), at: name }
      if (kind === 'choice') expect(rowsOf(form, state, columns, height).join('\n')).toMatch(/‹ .* ›/)
      else expect(rowsOf(form, pressAll(form, state, ...typed('zq')).own, columns, height).join('\n')).toContain('zq ')
    }
  })
  test('asks twice before what was changed is lost', () => {
    const changed = pressAll(partForm, newPart(), ...typed('x'), 'escape')
    expect(changed).toMatchObject({ asked: [], said: 'What was changed is not saved. Esc once more drops that.' })
    expect(pressAll(partForm, newPart(), 'escape').asked).toMatchObject([{ by: 'back' }])
  })
  test('shows all its fields at 80 × 24, with the field in hand, the unit and the mistake', () => {
    const state = pressAll(partForm, newPart(), ...typed('DP-62'), ...atRated, ...typed('-1')).own
    expect(rowsOf(partForm, state)).toEqual([
      ' New part',
      '',
      '   model                DP-62                     serial number ·',
      '   lot                  ·             condition ·',
      '   kind                   draft-proving',
      ' ► rated point          -1 _____    inH2O    on   make   ✗',
      '   make limits          low ·         high ·           inH2O',
      '   break limits         low ·         high ·           inH2O',
      '   differential limits  low ·         high ·           inH2O',
      '   contact              at most ·        ohm',
      '   proof pressure       ·           inH2O',
      '',
      ' The pressure on the label, without sign: what pushes the switch counts as',
      ' positive. Such as 0.25.',
      ' ✗ rated point is -1 inH2O; it must be more than 0 inH2O.',
      ...Array.from({ length: 7 }, () => ''),
      ' Ctrl-S save  Enter next  Esc back  Tab field  ? keys',
    ])
  })
  test('shows a hostile file as harmless text', () => {
    const hostile = { ...whole, model: '\x1b[2Jevil\u202e', lot: 'a  b' }
    const text = rowsOf(partForm, formState({ ...partSpec, title: '\x1b]0;x\x07' }, partValues(hostile))).join('\n')
    expect(text).toContain('\\u001b[2Jevil')
    expect(text).toContain('a  b')
    for (const char of ['\x1b', '\u202e', '\x07']) expect(text).not.toContain(char)
  })
  test('keeps within every size', () => {
    for (const [columns, height] of [
      [140, 45],
      [50, 12],
      [20, 6],
      [8, 2],
    ] as const)
      for (const row of rowsOf(partForm, newPart(), columns, height)) expect(row.length).toBeLessThanOrEqual(columns)
    expect(rowsOf(partForm, { ...newPart(), at: 'proof.value' }, 50, 10).join('\n')).toContain('► proof pressure')
  })
})

describe('a choice', () => {
  const spec: FormSpec = {
    ...{ title: '', check: () => [], done: partSpec.done, back: partSpec.back },
    rows: ({ unit }) => [
      { label: 'unit', fields: [{ name: 'unit', label: '', kind: 'choice', values: ['Pa', 'psi', 'kPa'], help: '' }] },
      ...(unit === 'psi'
        ? [{ label: 'more', fields: [{ name: 'more', label: '', kind: 'number' as const, help: '' }] }]
        : []),
    ],
  }
  const form = createForm(spec)
  const state = formState(spec, { unit: 'Pa' })
  const unit = (...keys: string[]) => pressAll(form, state, ...keys).own.values['unit']
  test('turns with the arrows and the space bar, and goes to the next that begins with a letter', () => {
    expect(unit('right')).toBe('psi')
    expect(unit('left')).toBe('kPa')
    expect(unit(' ', ' ')).toBe('kPa')
    expect(unit('p')).toBe('psi')
    expect(unit('p', 'p')).toBe('Pa')
    expect(unit('x', 'backspace')).toBe('Pa')
    expect(unit('ctrl-u')).toBe('Pa')
  })
  test('may bring rows and take them away; the field in hand is always one that is there', () => {
    const more = pressAll(form, state, 'right', 'tab', '7').own
    expect(more.values).toEqual({ unit: 'psi', more: '7' })
    expect(pressAll(form, more, 'tab', 'left', 'tab', 'k').own.values['unit']).toBe('kPa')
  })
  test('takes ? as the key for help, not as text', () => {
    expect(pressAll(form, state, '?').framed.help).toBe(true)
  })
})
