// What can be done from here into the rows of the start screen; the first is what most people want.
import { type Choice, createPickList } from './pick-list.ts'

export type StartChoice =
  | 'demonstration'
  | 'test'
  | 'parts'
  | 'rigs'
  | 'recordings'
  | 'bench'
  | 'lesson'
  | 'settings'
  | 'leave'

/** Rows of the start screen. Without a rig the simulated bench comes first, and a test of a real part says what is missing. */
export function startRows(rigs: readonly string[], parts: readonly string[]): Choice<StartChoice>[] {
  const noRig = rigs.length === 0 ? 'no rig yet; choose `Rigs` to set one up' : null
  const demonstration: Choice<StartChoice> = {
    value: 'demonstration',
    cells: ['Try it', 'a whole test of a good part on the simulated bench'],
    about: [
      'Nothing needs to be connected. The simulated hand draws, the program does the rest; q ends it at any time.',
    ],
  }
  const test: Choice<StartChoice> = {
    value: 'test',
    cells: ['Test parts', 'choose a part, then one serial number after the other'],
    blocked: noRig,
    about: [
      'The switch is out of its appliance; the mains were off first, and it was proved dead. Never draw or blow by mouth. Local codes and licensed practice come first.',
    ],
  }
  return [
    ...(noRig === null ? [test] : [demonstration, test]),
    {
      value: 'parts',
      cells: ['Parts', parts.length === 0 ? 'none yet: rating and limits of each kind of switch' : listed(parts)],
      about: ['Look at them, make a new one, change one. The numbers come from the label or the maker’s document.'],
    },
    {
      value: 'rigs',
      cells: ['Rigs', rigs.length === 0 ? 'none yet: manometer and meter, their ports and drivers' : listed(rigs)],
      about: [
        'Learn how unknown instruments talk, choose ports and drivers, watch what they send, prove the sign, measure rate, noise and damping.',
      ],
    },
    {
      value: 'recordings',
      cells: ['Recordings', 'look at a test again, at any pace'],
      about: ['Each test is kept with every byte; verdict, budget and curve are recalculated from it each time.'],
    },
    {
      value: 'bench',
      cells: ['Simulated bench', 'with a fault of your choice'],
      about: ['Run it live or watch it: what each fault looks like, and what the program makes of it.'],
    },
    {
      value: 'lesson',
      cells: ['Lesson', 'a fault is hidden; you name it'],
      about: ['Watch a simulated test without its findings, say what is wrong, and see it explained.'],
    },
    ...(noRig === null ? [demonstration] : []),
    {
      value: 'settings',
      cells: ['Settings', 'shop, address, logo and paper of the test reports'],
      about: ['The head of each report, the unit that comes second in it, and the decimal sign of tables.'],
    },
    { value: 'leave', cells: ['Leave', ''] },
  ]
}

const listed = (names: readonly string[]) =>
  `${names.length}: ${names.slice(0, 4).join(', ')}${names.length > 4 ? ' …' : ''}`

export const startMenu = createPickList<StartChoice>({
  title: 'makebreak',
  right: 'draft and vacuum switches on the bench',
  empty: '',
  enter: { short: 'choose', does: 'Do what the row says.' },
  back: { short: 'leave', does: 'Leave the program.' },
  root: true,
  search: false,
})
