// A session whose contact is told by a continuity tester beside the same with an ohmmeter.
import { expect, test } from 'vitest'
import { stateOf } from '../../src/core/model/samples.ts'
import { foldEvents, resultFrom } from '../harness/fold-events.ts'
import { makeForeignRecording, quietBench, rewrite } from '../harness/foreign-recording.ts'

const part = { contact: { maxOhm: 2 } }
const meter = { driver: 'continuity-text', options: {} }
const told = rewrite(makeForeignRecording({ ...quietBench, part, rig: { meter } }), 'meter', (_, text) =>
  Number(text) < 100 ? 'Short\n' : 'Open\n',
)
const measured = makeForeignRecording({ ...quietBench, part })

test('the trips are the same, and of its ohms nothing is known', () => {
  const [words, ohms] = [resultFrom(told.events), resultFrom(measured.events)]
  expect(words.make.valuePa).toBeCloseTo(ohms.make.valuePa!, 9)
  expect(words.break.valuePa).toBeCloseTo(ohms.break.valuePa!, 9)
  expect(ohms.contact.medianOhm).not.toBeNull()
  expect(words.contact.medianOhm).toBeNull()
})

test('a limit in ohm is not passed by the word Short', () => {
  expect(resultFrom(measured.events).limits.find(({ name }) => name === 'contact')?.outcome).toBe('pass')
  expect(resultFrom(told.events).limits.find(({ name }) => name === 'contact')?.outcome).toBe('undecided')
})

test('it tells no state of the resistor network, which goes by ohms', () => {
  const network = rewrite(
    makeForeignRecording({ ...quietBench, rig: { meter: { ...meter, pair: 'network' } } }),
    'meter',
    () => 'Short\n',
  )
  const run = foldEvents(network.events)
  expect(run.contact.length).toBeGreaterThan(10)
  expect(new Set(run.contact.slice().map(({ state }) => stateOf(state)))).toEqual(new Set(['unknown']))
})
