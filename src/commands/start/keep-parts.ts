// The parts in the user's folder: listed and searched, a new one made, one changed, one chosen for a test.
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { Problem } from '../../errors.ts'
import {
  createForm,
  type FormAsk,
  type FormSpec,
  type FormState,
  formState,
  type Values,
} from '../../terminal/screens/form.ts'
import type { Json } from '../../terminal/screens/form-json.ts'
import { emptyPart, partJson, partRows, partValues, unitsFollow } from '../../terminal/screens/part-form.ts'
import { type Choice, createPickList, type Picked, pickState } from '../../terminal/screens/pick-list.ts'
import { userFolders } from '../../user-folders.ts'
import { partMistakes } from '../check-setup.ts'
import { listSetups, readPart } from '../read-setup.ts'
import { nameMistake, saveSetup } from '../save-setup.ts'
import { showProblem } from '../show-page.ts'
import { partText } from './describe-part.ts'
import type { Desk } from './desk.ts'

const newPart = { name: 'new', onRow: false, keys: ['ctrl-n'], shown: 'Ctrl-N', short: 'new', does: 'Make a new part.' }
const changePart = {
  name: 'edit',
  onRow: true,
  keys: ['ctrl-e'],
  shown: 'Ctrl-E',
  short: 'change',
  does: 'Change the part chosen.',
}

/** The list of parts, until it is left. */
export async function keepParts(desk: Desk): Promise<void> {
  await choosePart(desk, 'Parts', { short: 'change', does: 'Change the part chosen.' }, (name) => editPart(desk, name))
}

/**
 * The list of parts; `onEnter` is called with the name of the one chosen, and may give something that ends it. Gives that,
 * or null where the list was left.
 */
export async function choosePart<T>(
  desk: Desk,
  title: string,
  enter: { short: string; does: string },
  onEnter: (name: string) => Promise<T | undefined>,
): Promise<T | null> {
  const { parts } = userFolders()
  const list = createPickList<string>({
    title,
    empty: 'No part stands here yet; Ctrl-N makes one from its label.',
    enter,
    back: { short: 'back', does: 'Take the search away, else go back.' },
    search: true,
    own: enter.short === 'change' ? [newPart] : [newPart, changePart],
  })
  let state = pickState<string>([])
  while (!desk.host.over()) {
    state = { ...state, rows: await partRowsOf(parts) }
    state.at = Math.max(0, Math.min(state.at, state.rows.length - 1))
    const picked: Picked<string> | null = await desk.host.show(list, state, (ask, hands) => {
      state = hands.now()
      hands.leave(ask)
    })
    if (picked === null || picked.by === 'back') return null
    const { by, value } = picked
    const done = await showProblem(desk.host, async () => {
      if (by === 'new') await editPart(desk, null)
      else if (value !== null && by === 'edit') await editPart(desk, value)
      else if (value !== null) return onEnter(value)
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

/** The form of the part `name`, null for a new one; gives undefined whether it was saved or left. */
async function editPart(desk: Desk, name: string | null): Promise<undefined> {
  const { parts } = userFolders()
  const before = name === null ? null : await readFile(join(parts, `${name}.json`), 'utf8')
  const base = before === null ? emptyPart : parsed(before, name ?? '')
  const taken = await listSetups(parts)
  const check = (values: Values) => {
    const named = (values['name'] ?? '').trim()
    const wrong =
      name === null
        ? (nameMistake(named) ?? (taken.includes(named) ? `There is a part ${named} already.` : null))
        : null
    return [...partMistakes(partJson(base, values)), ...(wrong === null ? [] : [{ field: 'name', text: wrong }])]
  }
  const spec: FormSpec = {
    title: name === null ? 'New part' : `Part ${name}`,
    rows: () => partRows(name === null),
    check,
    follow: unitsFollow,
    done: { short: 'save', does: 'Save the part.', enter: false },
    back: { short: 'back', does: 'Go back without saving.' },
  }
  await desk.host.show<FormState, FormAsk, true>(createForm(spec), formState(spec, partValues(base)), (ask, hands) => {
    if (ask.by === 'back') return hands.leave(true)
    saveSetup(parts, name ?? (ask.values['name'] ?? '').trim(), partJson(base, ask.values), before).then(
      () => hands.leave(true),
      (error) => hands.say(error instanceof Problem ? error.message : String(error)),
    )
  })
  return undefined
}

function parsed(text: string, name: string): Json {
  try {
    return JSON.parse(text) as Json
  } catch {
    throw new Problem('not-json', `The part file ${name}.json is no JSON, so no form can show it.`)
  }
}
