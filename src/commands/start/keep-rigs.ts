// The rigs in the user's folder: listed, a new one made, one changed; ports chosen from those there are, instruments watched from the form.
import { rigPorts } from '../../core/model/rig.ts'
import type { DriverFacts } from '../../driver.ts'
import { Problem } from '../../errors.ts'
import { createForm, formState } from '../../terminal/screens/form.ts'
import type { Json } from '../../terminal/screens/form-json.ts'
import type { FormAsk, FormSpec, FormState, Values } from '../../terminal/screens/form-spec.ts'
import type { Hands } from '../../terminal/screens/host.tsx'
import {
  type Choice,
  createPickList,
  type Picked,
  type PickState,
  pickState,
} from '../../terminal/screens/pick-list.ts'
import {
  type DriverForm,
  instrumentsOf,
  rigFields,
  rigFollow,
  rigJson,
  rigRows,
  rigValues,
} from '../../terminal/screens/rig-form.ts'
import { withoutEntry } from '../../terminal/screens/setup-fields.ts'
import { userFolders } from '../../user-folders.ts'
import { rigMistakes } from '../check-setup.ts'
import { rigDoubts } from '../doubt-setup.ts'
import { findPorts } from '../find-ports.ts'
import { keepSavedPorts } from '../find-rig-ports.ts'
import { learnRig } from '../learn/learn-rig.ts'
import { listSetups } from '../list-setups.ts'
import { loadReaders } from '../load-readers.ts'
import { readRig } from '../read-setup.ts'
import { saveSetup } from '../save-setup.ts'
import { showProblem } from '../show-page.ts'
import { type Desk, pickOne, saying } from './desk.ts'
import { openSetup } from './open-setup.ts'
import { watchRig } from './watch-rig.ts'

const newRig = { name: 'new', onRow: false, keys: ['ctrl-n'], shown: 'Ctrl-N', short: 'new', does: 'Set up a new rig.' }

const learnKey = {
  ...{ name: 'learn', onRow: false, keys: ['ctrl-l'], shown: 'Ctrl-L', short: 'learn' },
  does: 'Find out how an unknown instrument talks; it goes into a rig.',
}

/** With all drivers, the user's own among them, as far as a form needs them. */
type RigDesk = Desk & { drivers: ReadonlyMap<string, DriverFacts> }

/** The list of rigs, until it is left. */
export async function keepRigs(start: Desk): Promise<void> {
  const { rigs, drivers: folder } = userFolders()
  const readers = await loadReaders(folder)
  // What is needed of them is data: none runs here.
  readers.stop()
  const desk: RigDesk = { ...start, drivers: new Map(readers.drivers.map((driver) => [driver.id, driver])) }
  const list = createPickList<string>({
    title: 'Rigs',
    empty: 'No rigs yet; Ctrl-L learns one from its instruments, Ctrl-N sets one up by hand.',
    enter: { short: 'change', does: 'Change the rig chosen, or watch its instruments.' },
    back: { short: 'back', does: 'Clear the search, else go back.' },
    search: true,
    own: [newRig, learnKey],
  })
  let state = pickState<string>([])
  let said: string | null = null
  while (!desk.host.over()) {
    state = { ...state, rows: await rigRowsOf(desk, rigs) }
    state.at = Math.max(0, Math.min(state.at, state.rows.length - 1))
    const obey = (ask: Picked<string>, hands: Hands<PickState<string>, Picked<string>>) => {
      state = hands.now()
      hands.leave(ask)
    }
    const picked = await desk.host.show(list, state, obey, saying(said))
    if (picked === null || picked.by === 'back') return
    const act = (): Promise<string | null> =>
      picked.by === 'learn' ? learnHere(desk, picked.value) : editRig(desk, picked.by === 'new' ? null : picked.value)
    said = (await showProblem(desk.host, act)) ?? null
  }
}

/** Learns an instrument in plain lines, which take the terminal meanwhile; what is to be said afterwards. */
async function learnHere(desk: Desk, chosen: string | null): Promise<string | null> {
  const names = await listSetups(userFolders().rigs)
  const free = ['bench', ...names.map((_, i) => `bench-${i + 2}`)].find((name) => !names.includes(name)) ?? 'bench'
  const files = [...(chosen === null ? [] : [chosen]), free].map(
    (name): Choice<string> => ({ value: name, cells: [name, name === free ? 'a new rig' : 'add to it, or replace'] }),
  )
  const rig = files.length === 1 ? free : await pickOne(desk, files, 'Which rig does the instrument belong to?')
  const port =
    rig === null
      ? null
      : await pickPort(desk, 'Port of the instrument to learn', 'run `makebreak rig learn --port PORT`')
  if (rig === null || port === null) return null
  await desk.host.release()
  const status = await learnRig({ port: [port], rig })
  return status === 0 ? `Learned into ${rig}; Enter looks at it.` : 'Stopped. Nothing more was written.'
}

async function rigRowsOf({ drivers }: RigDesk, folder: string): Promise<Choice<string>[]> {
  const names = await listSetups(folder)
  return Promise.all(
    names.map(async (name): Promise<Choice<string>> => {
      try {
        const rig = await readRig(name, folder, drivers)
        const ports = rigPorts(rig).map(
          ({ name: port, device }) => `${port} ${device.driver} at ${device.port?.path ?? 'no port'}`,
        )
        return { value: name, cells: [name, rig.name ?? '', ports.join('; ')], about: ports }
      } catch (error) {
        if (!(error instanceof Problem)) throw error
        return { value: name, cells: [name, '', 'cannot be used'], tone: 'bad', about: [error.message, error.next] }
      }
    }),
  )
}

/** The form of the rig `name`, null for a new one, until it is saved or left; what is to be said afterwards, null where nothing was saved. */
async function editRig(desk: RigDesk, name: string | null): Promise<string | null> {
  const { rigs } = userFolders()
  const drivers = driverForms(desk)
  const { base, before, namedWrong } = await openSetup('rig', rigs, name)
  const nameIn = (values: Values) => name ?? (values['file'] ?? '').trim()
  const spec: FormSpec = {
    title: name === null ? 'New rig' : `Rig ${name}`,
    rows: (values) => rigRows(values, drivers, name === null),
    check: (values) => {
      const json = rigJson(base, values, drivers)
      return [
        ...rigMistakes(json, desk.drivers, rigFields(values, drivers)),
        ...namedWrong(nameIn(values)),
        ...rigDoubts(json, new Date().toISOString().slice(0, 10)),
      ]
    },
    follow: (values) => rigFollow(values, drivers),
    without: withoutEntry,
    done: { short: 'save', does: 'Save the rig.', enter: false },
    back: { short: 'back', does: 'Go back without saving.' },
    own: [
      {
        name: 'look',
        keys: ['ctrl-l'],
        shown: 'Ctrl-L',
        short: 'look',
        does: 'Watch what the instruments send; prove sign, noise and damping.',
        blocked: (values) =>
          instrumentsOf(values).some((at) => values[`${at}.port.path`]?.trim()) ? null : 'no port is named yet',
      },
      { name: 'ports', keys: ['ctrl-p'], shown: 'Ctrl-P', short: 'ports', does: 'Choose a port from those there are.' },
    ],
  }
  const form = createForm(spec)
  let state: FormState = formState(spec, rigValues(base, drivers))
  let said: string | null = null
  while (!desk.host.over()) {
    const obey = (ask: FormAsk, hands: Hands<FormState, FormAsk | string>) => {
      state = hands.now()
      if (ask.by !== 'done') return hands.leave(ask)
      saveSetup(rigs, nameIn(ask.values), rigJson(base, ask.values, drivers), before).then(
        async (path) => {
          await keepSavedPorts(nameIn(ask.values), rigJson(base, ask.values, drivers))
          hands.leave(`Saved: ${path}`)
        },
        (error) => hands.say(error instanceof Problem ? error.message : String(error)),
      )
    }
    const asked: FormAsk | string | null = await desk.host.show(form, state, obey, saying(said))
    if (asked === null || typeof asked === 'string') return asked
    if (asked.by === 'back') return null
    const { values } = state
    const change: Change | undefined = await showProblem(desk.host, () =>
      asked.by === 'look' ? proved(desk, rigJson(base, values, drivers), values) : portChosen(desk, state),
    )
    said = change?.said ?? null
    if (change) state = { ...state, values: { ...values, ...change.values } }
  }
  return null
}

/** What another screen found, as values of the form, and what is to be said of it. */
type Change = { values: Values; said: string | null }

/** What watching the instruments proved, as values of the form; none where nothing is taken over. */
async function proved(desk: RigDesk, json: Json, values: Values): Promise<Change> {
  const found = await watchRig(desk, json)
  const at = instrumentsOf(values)[0]!
  if (found === null) return { values: {}, said: null }
  const digit = found.digit && {
    [`${at}.digit.value`]: String(found.digit.value),
    [`${at}.digit.unit`]: found.digit.unit,
  }
  const seen = found.digit ? `, last digit ${found.digit.value} ${found.digit.unit}` : ''
  return {
    values: { [`${at}.suctionSign`]: String(found.suctionSign), ...digit },
    said: `Taken over: suction reads ${found.suctionSign === 1 ? 'positive' : 'negative'}${seen}. Ctrl-S saves the rig.`,
  }
}

/** The port chosen for the instrument whose row is in hand, else for the first. */
async function portChosen(desk: Desk, { at, values }: FormState): Promise<Change> {
  const instrument = instrumentsOf(values).find((each) => at.startsWith(`${each}.`)) ?? instrumentsOf(values)[0]!
  const path = await pickPort(desk, `Port of the ${instrument}`, 'type the path into the form')
  return { values: path === null ? {} : { [`${instrument}.port.path`]: path }, said: null }
}

/** One of the ports that there are; null where none was chosen. `otherwise`: what to do where the port is not among them. */
async function pickPort(desk: Desk, title: string, otherwise: string): Promise<string | null> {
  const { ports, lister } = await findPorts()
  const rows = ports.map(
    ({ path, description, hint }): Choice<string> => ({
      value: path,
      cells: [path, hint ?? description],
      about: hint ? [hint] : [],
    }),
  )
  const nothing = `No serial port found. Plug the adapter in, or ${otherwise}.`
  return pickOne(desk, rows, `${title}${lister === null ? '' : ' (found in /dev)'}`, nothing)
}

function driverForms({ drivers }: RigDesk): DriverForm[] {
  return [...drivers.values()].map(({ id, title, serial, options }) => ({ id, title, serial, options }))
}
