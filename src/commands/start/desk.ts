// What the screens that start from the start screen share, and the choice of one row of many.
import type { Hands, Host } from '../../terminal/screens/host.tsx'
import type { Score } from '../../terminal/screens/lesson.ts'
import {
  type Choice,
  createPickList,
  type Picked,
  type PickState,
  pickState,
} from '../../terminal/screens/pick-list.ts'

export type Desk = {
  host: Host
  /** Exit statuses of the tests done so far. */
  statuses: number[]
  /** Of the lessons so far. */
  score: Score
}

/** The row chosen; null where none was. Long lists can be searched. */
export async function pickOne<T>(
  { host }: Desk,
  rows: readonly Choice<T>[],
  title: string,
  empty = '',
): Promise<T | null> {
  const list = createPickList<T>({
    ...{ title, empty, search: rows.length > 8 },
    enter: { short: 'choose', does: 'Take this one.' },
    back: { short: 'back', does: 'Go back.' },
  })
  const picked = await host.show<PickState<T>, Picked<T>, Picked<T>>(list, pickState(rows), (ask, hands) =>
    hands.leave(ask),
  )
  return picked?.by === 'enter' ? picked.value : null
}

/** For the beginning of a screen: one sentence about what was done before it; nothing for null. */
export const saying =
  (text: string | null) =>
  <S, V>(hands: Hands<S, V>): (() => void) => {
    if (text !== null) hands.say(text)
    return () => {}
  }
