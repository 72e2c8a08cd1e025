// The parts in the user's folder: listed and searched, a new one made, one changed, one chosen for a test.
import { Problem } from '../../errors.ts'
import { createForm, formState } from '../../terminal/screens/form.ts'
import type { FormAsk, FormSpec, FormState, Values } from '../../terminal/screens/form-spec.ts'
import type { Hands } from '../../terminal/screens/host.tsx'
import { partFollow, partJson, partRows, partValues } from '../../terminal/screens/part-form.ts'
import {
  type Choice,
  createPickList,
  type Picked,
  type PickState,
  pickState,
} from '../../terminal/screens/pick-list.ts'
import { userFolders } from '../../user-folders.ts'
import { partMistakes } from '../check-setup.ts'
import { partDoubts } from '../doubt-setup.ts'
import { listSetups } from '../list-setups.ts'
import { readPart } from '../read-setup.ts'
import { saveSetup } from '../save-setup.ts'
import { showProblem } from '../show-page.ts'
import { partText } from './describe-part.ts'
import { type Desk, saying } from './desk.ts'
import { openSetup } from './open-setup.ts'

const newPart = { name: 'new', onRow: false, keys: ['ctrl-n'], shown: 'Ctrl-N', short: 'new', does: 'Make a new part.' }
const changePart = {
  name: 'edit',
  onRow: true,
  keys: ['ctrl-o'],
  shown: 'Ctrl-O',
  short: 'change',
  does: 'Open the part chosen and change it.',
}

/** The list of parts, until it is left. */
export async function keepParts(desk: Desk): Promise<void> {
  await choosePart<never>(desk, 'Parts', { short: 'change', does: 'Change the part chosen.' })
}

/**
 * The list of parts; `onEnter` is called with the name of the one chosen, and may give something that ends it; left out,
 * Enter changes it. Gives that, or null where the list was left.
 */
export async function choosePart<T>(
  desk: Desk,
  title: string,
  enter: { short: string; does: string },
  onEnter?: (name: string) => Promise<T | undefined>,
): Promise<T | null> {
  const { parts } = userFolders()
  const list = createPickList<string>({
    title,
    empty: 'No parts yet; Ctrl-N makes one from its label.',
    enter,
    back: { short: 'back', does: 'Clear the search, else go back.' },
    search: true,
    own: onEnter ? [newPart, changePart] : [newPart],
  })
  let state = pickState<string>([])
  let said: string | null = null
  while (!desk.host.over()) {
    state = { ...state, rows: await partRowsOf(parts) }
    state.at = Math.max(0, Math.min(state.at, state.rows.length - 1))
    const obey = (ask: Picked<string>, hands: Hands<PickState<string>, Picked<string>>) => {
      state = hands.now()
      hands.leave(ask)
    }
    const picked: Picked<string> | null = await desk.host.show(list, state, obey, saying(said))
    said = null
    if (picked === null || picked.by === 'back') return null
    const { by, value } = picked
    const done = await showProblem(desk.host, async () => {
      if (by === 'enter' && value !== null && onEnter) return onEnter(value)
      said = await editPart(desk, by === 'new' ? null : value)
      return undefined
    })
    if (done !== undefined) return done
  }
  return null
}

async function partRowsOf(folder: string): Promise<Choice<string>[]> {
  const names = await listSetups(folder)
  return Promise.all(
    names.map(async (name): Promise<Choice<string>> => {
      try {
        const part = await readPart(name, folder)
        const [first = '', ...about] = partText(part)
        return { value: name, cells: [name, part.model ?? '', first], about }
      } catch (error) {
        if (!(error instanceof Problem)) throw error
        return { value: name, cells: [name, '', 'cannot be used'], tone: 'bad', about: [error.message, error.next] }
      }
    }),
  )
}

/** The form of the part `name`, null for a new one; gives what is to be said afterwards, null where nothing was saved. */
async function editPart(desk: Desk, name: string | null): Promise<string | null> {
  const { parts } = userFolders()
  const { base, before, namedWrong } = await openSetup('part', parts, name)
  const nameIn = (values: Values) => name ?? (values['file'] ?? '').trim()
  const rows = partRows(name === null)
  const spec: FormSpec = {
    title: name === null ? 'New part' : `Part ${name}`,
    rows: () => rows,
    check: (values) => {
      const json = partJson(base, values)
      return [...partMistakes(json), ...namedWrong(nameIn(values)), ...partDoubts(json)]
    },
    follow: partFollow,
    done: { short: 'save', does: 'Save the part.', enter: false },
    back: { short: 'back', does: 'Go back without saving.' },
  }
  const form = createForm(spec)
  return desk.host.show<FormState, FormAsk, string | null>(form, formState(spec, partValues(base)), (ask, hands) => {
    if (ask.by === 'back') return hands.leave(null)
    saveSetup(parts, nameIn(ask.values), partJson(base, ask.values), before).then(
      (path) => hands.leave(`Saved: ${path}`),
      (error) => hands.say(error instanceof Problem ? error.message : String(error)),
    )
  })
}
