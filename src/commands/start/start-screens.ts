// No command, on a terminal: the start screen, and from it tests, parts, rigs, recordings, the simulated bench and lessons.
// It is drawn before anything else is loaded: what a row needs is loaded when the row is chosen.
import { type Host, openHost } from '../../terminal/screens/host.tsx'
import { type Picked, type PickState, pickState, withRows } from '../../terminal/screens/pick-list.ts'
import { type StartChoice, startMenu, startRows } from '../../terminal/screens/start-menu.ts'
import type { PageAsk } from '../../terminal/screens/text-page.ts'
import { changedSummary, changedTexts } from '../../terminal/text/changed-verdicts.ts'
import { userFolders } from '../../user-folders.ts'
import { readVersion } from '../../version.ts'
import { gravestStatus } from '../exit-status.ts'
import { listSetups } from '../list-setups.ts'
import { showPage, showProblem } from '../show-page.ts'
import type { Desk } from './desk.ts'
import { createReview, type Review } from './review-verdicts.ts'

/** Opens the start screen on this process's terminal, which has to be one; the exit status is the gravest of the tests done. */
export async function startScreens(): Promise<number> {
  const host = openHost()
  const statuses: number[] = []
  try {
    await chooseFrom(host, statuses)
  } finally {
    await host.close()
  }
  return gravestStatus(statuses)
}

async function chooseFrom(host: Host, statuses: number[]): Promise<void> {
  const { parts, rigs } = userFolders()
  const review = createReview(userFolders(), readVersion())
  let state: PickState<StartChoice> = pickState([])
  const desk: Desk = { host, statuses, score: { named: 0, rounds: 0 } }
  while (!host.over()) {
    state = withRows(state, startRows(await listSetups(rigs), await listSetups(parts)), (a, b) => a === b)
    const picked: Picked<StartChoice> | null = await host.show<
      PickState<StartChoice>,
      Picked<StartChoice>,
      Picked<StartChoice>
    >(
      startMenu,
      state,
      (ask, hands) => {
        state = hands.now()
        hands.leave(ask)
      },
      (hands) => {
        // Nothing takes the time of a test.
        void review.start((changed) => hands.say(changedSummary(changed)))
        return review.stop
      },
    )
    if (picked === null || picked.by === 'back' || picked.value === 'leave') return
    const { value } = picked
    if (value === null) continue
    await showProblem(host, async () => {
      if (value !== 'recordings' || (await tellChanged(host, review)) !== 'back') await doChoice(value, desk)
    })
  }
}

/** The verdicts that this version changes, on a page before the list that shows them; nothing where none is new. */
async function tellChanged(host: Host, review: Review): Promise<PageAsk | null> {
  const found = review.toTell()
  if (found === null) return null
  return showPage(host, 'Verdicts that change', changedTexts(found.changed, readVersion(), found.done), {
    next: 'recordings',
  })
}

async function doChoice(choice: Exclude<StartChoice, 'leave'>, desk: Desk): Promise<void> {
  switch (choice) {
    case 'demonstration':
      await (await import('./test-lot.ts')).runHere(desk, { bench: { scenario: 'good', seed: 1 } })
      return
    case 'test':
      return (await import('./test-lot.ts')).testLot(desk)
    case 'parts':
      return (await import('./keep-parts.ts')).keepParts(desk)
    case 'rigs':
      return (await import('./keep-rigs.ts')).keepRigs(desk)
    case 'settings':
      return (await import('./keep-shop.ts')).keepShop(desk)
    case 'recordings':
      return (await import('./browse-recordings.ts')).browseRecordings(desk)
    case 'bench':
      return (await import('./test-lot.ts')).chooseBench(desk)
    case 'lesson':
      desk.score = await (await import('./give-lessons.ts')).giveLessons(desk, desk.score)
      return
  }
}
