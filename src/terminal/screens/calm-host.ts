// Screen after screen into lines that are only added to: for a screen reader.
import type { Size } from '../panels/layout.ts'
import type { Region } from '../panels/shown.ts'
import { bareText } from '../text/line.ts'
import { readKeys } from './read-keys.ts'

/** What is told is laid out for so many cells, whatever the terminal has: one column, and some rows of a long list. */
const size: Size = { columns: 109, rows: 24 }

/** Marks the row that keys are for. */
const marker = '►'
// They are told in words beside them.
const signs = /[►▶‖✓✗●○━─│·]/g

export type TellStore = {
  subscribe(listener: () => void): () => void
  view(size: Size): Region[]
  /** What is said in the place of the keys. */
  said(): string | null
  key(name: string): void
  paste(text: string): void
}

/**
 * Tells each screen whole when it comes, then what a key changed of it, and what changes by itself only of the row that keys are
 * for and of the foot. Gives how to end that.
 */
export function tellScreens(store: TellStore): { unmount(): void; waitUntilExit(): Promise<void> } {
  const tell = createTeller((text) => process.stdout.write(`${text}\n`))
  const look = (pressed: boolean) => tell(store.view(size), store.said(), pressed)
  let pressing = false
  const stop = readKeys(
    (name) => press(() => store.key(name)),
    (text) => press(() => store.paste(text)),
  )
  const press = (action: () => void) => {
    pressing = true
    action()
    pressing = false
  }
  const unsubscribe = store.subscribe(() => look(pressing))
  look(false)
  return {
    unmount() {
      unsubscribe()
      stop()
    },
    waitUntilExit: async () => {},
  }
}

/** Writes what is new in each view, and what is said in its foot; `pressed`: a key changed it. */
export function createTeller(
  write: (text: string) => void,
): (view: readonly Region[], said: string | null, pressed: boolean) => void {
  let title = ''
  let known = new Set<string>()
  let here = ''
  let saidBefore: string | null = null
  let feet = new Set<string>()
  return (view, said, pressed) => {
    const rows = view.flatMap(({ lines }) => lines.map((line) => bareText(line).trim())).filter((row) => row !== '')
    const foot = rows.pop() ?? ''
    const [named = ''] = (rows[0] ?? '').split(/ {2,}/)
    const isNew = named !== title
    if (isNew) {
      title = named
      known = new Set()
      here = ''
      feet = new Set()
    }
    for (const row of rows) {
      const words = wordsOf(row)
      const isHere = row.startsWith(marker)
      const isTold = isHere ? words === here : known.has(words) || !(isNew || pressed)
      if (isHere) here = words
      if (!isTold && words !== '') write(isHere ? `Here: ${words}` : words)
    }
    known = new Set(rows.map(wordsOf))
    if (said !== null && said !== saidBefore) write(said)
    if (said === null && !feet.has(foot)) write(wordsOf(foot))
    if (said === null) feet.add(foot)
    saidBefore = said
  }
}

const wordsOf = (row: string) => row.replaceAll(signs, '').replaceAll(/ {2,}/g, '  ').trim()
