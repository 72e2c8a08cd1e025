// No command, on a terminal: the start screen, and from it tests, parts, rigs, recordings, the simulated bench and lessons.
import { loadDrivers } from '../../load-drivers.ts'
import { type Picked, type PickState, pickState, withRows } from '../../terminal/screens/pick-list.ts'
import { type StartChoice, startMenu, startRows } from '../../terminal/screens/start-menu.ts'
import { userFolders } from '../../user-folders.ts'
import { bindDrivers } from '../bind-drivers.ts'
import { gravestStatus } from '../exit-status.ts'
import { listSetups } from '../read-setup.ts'
import { showProblem } from '../show-page.ts'
import { browseRecordings } from './browse-recordings.ts'
import type { Desk } from './desk.ts'
import { giveLessons } from './give-lessons.ts'
import { keepParts } from './keep-parts.ts'
import { keepRigs } from './keep-rigs.ts'
import { chooseBench, runHere, testLot } from './test-lot.ts'

/** Opens the start screen on this process's terminal, which has to be one; the exit status is the gravest of the tests done. */
export async function startScreens(): Promise<number> {
  const { openHost } = await import('../../terminal/screens/host.tsx')
  const drivers = await loadDrivers(userFolders().drivers)
  const desk: Desk = {
    host: openHost(),
    drivers,
    findDecode: bindDrivers(drivers),
    statuses: [],
    score: { named: 0, rounds: 0 },
  }
  try {
    await chooseFrom(desk)
  } finally {
    await desk.host.close()
  }
  return gravestStatus(desk.statuses)
}

async function chooseFrom(desk: Desk): Promise<void> {
  const { parts, rigs } = userFolders()
  let state: PickState<StartChoice> = pickState([])
  while (!desk.host.over()) {
    state = withRows(state, startRows(await listSetups(rigs), await listSetups(parts)), (a, b) => a === b)
    const picked: Picked<StartChoice> | null = await desk.host.show(startMenu, state, (ask, hands) => {
      state = hands.now()
      hands.leave(ask)
    })
    if (picked === null || picked.by === 'back' || picked.value === 'leave') return
    const { value } = picked
    if (value !== null) await showProblem(desk.host, () => doChoice(value, desk))
  }
}

async function doChoice(choice: Exclude<StartChoice, 'leave'>, desk: Desk): Promise<void> {
  switch (choice) {
    case 'demonstration':
      return runHere(desk, { bench: { scenario: 'good', seed: 1 } })
    case 'test':
      return testLot(desk)
    case 'parts':
      return keepParts(desk)
    case 'rigs':
      return keepRigs(desk)
    case 'recordings':
      return browseRecordings(desk)
    case 'bench':
      return chooseBench(desk)
    case 'lesson':
      desk.score = await giveLessons(desk, desk.score)
      return
  }
}
