// A part, a rig and the surroundings, asked once, into one test after the other, each with its own serial number.
import { lotOf, lotSchema } from '../../core/model/lot.ts'
import { exitCodes, Problem } from '../../errors.ts'
import { findScenario, scenarioNames } from '../../simulation/find-scenario.ts'
import { createForm, formState } from '../../terminal/screens/form.ts'
import type { FormAsk, FormSpec, FormState, Values } from '../../terminal/screens/form-spec.ts'
import { lotJson, lotRows, noneTested, type Tally, tallied, tallyText } from '../../terminal/screens/lot-form.ts'
import type { Choice } from '../../terminal/screens/pick-list.ts'
import { userFolders } from '../../user-folders.ts'
import { schemaMistakes } from '../check-setup.ts'
import { errorStatus } from '../exit-status.ts'
import { findTagged } from '../find-tagged.ts'
import { listSetups } from '../list-setups.ts'
import type { RunOptions } from '../prepare-run.ts'
import { runTest } from '../run.ts'
import { showProblem } from '../show-page.ts'
import { type Desk, pickOne, saying } from './desk.ts'
import { choosePart } from './keep-parts.ts'
import type { TaggedPart } from './open-tagged.ts'
import { playVirtually } from './play-virtually.ts'

/** Chooses a part and a rig, then tests serial number after serial number until that is left. */
export async function testLot(desk: Desk): Promise<void> {
  const rig = await chooseRig(desk)
  if (rig === null) return
  const enter = { short: 'test it', does: 'Test parts of this kind.' }
  await choosePart(desk, 'Which part?', enter, (part) => testSerials(desk, part, rig))
}

/** The one rig there is, or the one chosen of many; null where none was. */
async function chooseRig(desk: Desk): Promise<string | null> {
  const names = await listSetups(userFolders().rigs)
  if (names.length === 1) return names[0]!
  const rows = names.map((name): Choice<string> => ({ value: name, cells: [name] }))
  return pickOne(desk, rows, 'Which rig?', 'No rigs yet.')
}

async function testSerials(desk: Desk, chosen: string, rig: string): Promise<undefined> {
  let part = chosen
  const specOf = (tally: Tally): FormSpec => ({
    title: `Test ${part} on ${rig}`,
    intro: [tallyText(tally), 'All but the serial number is kept for the whole lot; ↓ reaches it.'],
    rows: () => lotRows,
    check: (values) => schemaMistakes(lotJson(values), lotSchema),
    done: { short: 'start the test', does: 'Start the test of this serial number.', enter: true },
    back: { short: 'end the lot', does: 'Go back to the parts.' },
    light: true,
  })
  let values: Values = {}
  let tally = noneTested
  let said: string | null = null
  while (!desk.host.over()) {
    const spec = specOf(tally)
    const tests = desk.statuses.length
    const asked: FormAsk | null = await desk.host.show<FormState, FormAsk, FormAsk>(
      createForm(spec),
      formState(spec, values),
      (ask, hands) => hands.leave(ask),
      saying(said),
    )
    if (asked === null || asked.by === 'back') return undefined
    const opened = await openScanned(desk, asked.values['serial'] ?? '', values['serial'] ?? '', part)
    if (opened !== null) {
      part = opened.part
      said = opened.said
      values = { ...asked.values, serial: opened.serial }
      continue
    }
    const { serial, conditions, job } = lotOf(lotSchema.parse(lotJson(asked.values)))
    let tested = serial
    said = await problemOf(desk, async () => {
      tested = await runHere(desk, { part, rig, conditions, ...job, ...(serial === null ? {} : { serial }) })
    })
    const [status] = desk.statuses.slice(tests)
    if (status !== undefined && status <= 2) tally = tallied(tally, tested, status)
    // A test that could not be begun is asked for again.
    values = said === null ? { ...asked.values, serial: '' } : asked.values
  }
  return undefined
}

/**
 * Where a tag was scanned, or the number of a report typed: the part and the serial number that come of it. Null for a serial
 * number. `filled`: what was in the field before, for a scanner types behind it.
 */
async function openScanned(desk: Desk, text: string, filled: string, part: string): Promise<TaggedPart | null> {
  const folders = userFolders()
  const behind = filled !== '' && text.startsWith(filled) ? text.slice(filled.length) : ''
  let opened: TaggedPart | null = null
  const said = await problemOf(desk, async () => {
    const tagged = (await findTagged(text, folders)) ?? (await findTagged(behind, folders))
    if (tagged !== null) opened = await (await import('./open-tagged.ts')).openTagged(desk, tagged, part)
  })
  return said === null ? opened : { part, serial: '', said }
}

/** What went wrong in `action`, shown and given as a sentence; null where nothing did. */
async function problemOf({ host }: Desk, action: () => Promise<void>): Promise<string | null> {
  let problem: Problem | null = null
  await showProblem(host, () =>
    action().catch((error) => {
      if (error instanceof Problem) problem = error
      throw error
    }),
  )
  return (problem as Problem | null)?.message ?? null
}

const brokenOff: readonly number[] = [exitCodes.internal, exitCodes.failed, exitCodes.full]

/**
 * One test on the bench screen, which takes the terminal meanwhile; what it came to stays on the first screen behind. The
 * serial number that it ended with, which may have been corrected.
 */
export async function runHere({ host, statuses }: Desk, options: Partial<RunOptions>): Promise<string | null> {
  await host.release()
  try {
    const { status, serial } = await runTest({ purpose: 'certify', ...options })
    statuses.push(status)
    return serial
  } catch (error) {
    // A test that broke off has passed nothing; one that could not be begun is asked for again.
    const status = errorStatus(error)
    if (brokenOff.includes(status)) statuses.push(status)
    throw error
  }
}

/** The simulated bench with a fault of one's choice, run live or watched. */
export async function chooseBench(desk: Desk): Promise<void> {
  const rows = scenarioNames.map((name): Choice<string> => {
    const { title, expected } = findScenario(name, 1)
    return {
      value: name,
      cells: [name, title],
      about: [title, `It comes to: ${expected.verdict ?? 'what chance makes it'}.`],
    }
  })
  const how: Choice<'run' | 'watch'>[] = [
    { value: 'run', cells: ['Run it live', 'in its own time, with all keys'] },
    { value: 'watch', cells: ['Watch it', 'recorded at once, played at any pace'] },
  ]
  while (!desk.host.over()) {
    const scenario = await pickOne(desk, rows, 'Simulated bench')
    if (scenario === null) return
    const chosen = await pickOne(desk, how, `Simulated bench: ${scenario}`)
    if (chosen === 'run') await runHere(desk, { bench: { scenario, seed: 1 } })
    if (chosen === 'watch') await playVirtually(desk, findScenario(scenario, 1), 1, { speed: 20 })
  }
}
