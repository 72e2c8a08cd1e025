// A cable that comes off while the hand draws: what the hand is told then, when it is back, and what stays shown.
import { expect, test } from 'vitest'
import { closingLines, tell } from '../../../src/commands/describe-run.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { runGuided } from '../../harness/guided-run.ts'

const guided = runGuided(findScenario('cable-lost', 1))
const lost = guided.seen.filter(({ guide }) => guide.action === 'lost')

test('within a second the word is LOST, the sentence names both instruments, what to do and what goes on', () => {
  const breaks = guided.run.linkBreaks.items
  expect(breaks.length).toBeGreaterThan(1)
  expect(lost[0]!.tS - breaks[0]!.tUs / 1e6).toBeLessThan(1)
  const { port } = breaks[0]!
  const other = port === 'meter' ? 'manometer' : 'meter'
  expect(lost[0]!.guide.sentence).toMatch(
    new RegExp(`^The ${port} is lost, the ${other} is there\\. Vent and check its cable\\. Then go on with the .*\\.$`),
  )
})

test('nothing is shown of an instrument that is lost', () => {
  const { port } = guided.run.linkBreaks.items[0]!
  for (const { live } of [lost[0]!, lost.at(-1)!])
    if (port === 'manometer') expect(live).toMatchObject({ pressurePa: null, ratePaPerS: null })
    else expect(live).toMatchObject({ contact: 'unknown', actuated: null, ohm: null })
})

test('when it is back in the same stroke the hand is told to draw that one again, and which step goes on', () => {
  const { port } = guided.run.linkBreaks.items[0]!
  const back = guided.seen.filter(({ guide }) => guide.sentence.startsWith(`The ${port} is back.`))
  expect(back[0]!.guide).toMatchObject({ action: 'vent' })
  expect(back[0]!.guide.sentence).toMatch(/ Vent, then go on with the [a-z ]+: draw this stroke again\.$/)
})

test('the reason of a test that a lost cable left undecided names the instrument', () => {
  const { run } = runGuided(findScenario('meter-lost', 1), { limitS: 500 })
  const told = tell(run)
  expect(told.grounds.lost).toEqual(['meter'])
  expect(closingLines(told).join('\n')).toMatch(
    /^The meter was lost during the test: see to the cable\. .* Void: \d+ with a gap in the readings/m,
  )
})
