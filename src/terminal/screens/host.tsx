// One screen after the other on this process's terminal: drawn once mounted, keys queued between two, the terminal given back at the end.

import { Box, render, useInput, usePaste, useWindowSize } from 'ink'
import { useSyncExternalStore } from 'react'
import type { Size } from '../panels/layout.ts'
import type { Region } from '../panels/shown.ts'

import { createFading } from '../parts/fading.ts'
import { Panel } from '../parts/panel.tsx'
import { isReadAloud } from '../text/is-read-aloud.ts'
import { cleanText } from '../text/text.ts'
import { type TellStore, tellScreens } from './calm-host.ts'
import { footOf, helpRegion } from './frame.ts'
import { type Framed, framed, leaveKey, type Pressed, pasteScreen, pressScreen, type Screen } from './screen.ts'
import { screenKeys } from './screen-keys.ts'

/** What whoever opened a screen does with it while it is shown. */
export type Hands<S, V> = {
  /** The screen's state as it is now. */
  now(): S
  /** Changes what is shown; does nothing once the screen is over. */
  change(to: (state: S) => S): void
  /** Says one sentence at the foot, until the next key or until it could be read. */
  say(text: string): void
  /** Ends this screen with a value. */
  leave(value: V): void
}

export type Host = {
  /**
   * Shows `screen` until `obey` leaves it; the value it left with, or null where the whole program is to be left:
   * Ctrl-C, a signal, `close`. After that each call gives null at once. `begin` is called once it is shown, for what
   * changes by itself; it gives back how to end that.
   */
  show<S, A, V>(
    screen: Screen<S, A>,
    initial: S,
    obey: (ask: A, hands: Hands<S, V>) => void,
    begin?: (hands: Hands<S, V>) => () => void,
  ): Promise<V | null>
  /** Gives the terminal back, so that something else may draw; the next `show` takes it again. Resolves when it is free. */
  release(): Promise<void>
  /** Whether the program is to be left. */
  over(): boolean
  /** Gives the terminal back for good. */
  close(): Promise<void>
}

/** What is shown at present, with the screen's types forgotten. */
type Showing = {
  view(size: Size): Region[]
  said(): string | null
  key(name: string): void
  paste(text: string): void
  end(): void
}

/** Keys that come between two screens, such as a scanner's, wait for the next; more than these are a stuck key. */
const mostWaiting = 200

/** A host for this process's terminal, which has to be one. Nothing is drawn before the first `show`. */
export function openHost(): Host {
  let showing: Showing | null = null
  let lastShown: Showing | null = null
  let waiting: ((to: Showing) => void)[] = []
  let instance: Pick<ReturnType<typeof render>, 'unmount' | 'waitUntilExit'> | null = null
  let over = false
  let version = 0
  const listeners = new Set<() => void>()
  const redraw = () => {
    version++
    for (const listener of listeners) listener()
  }
  const give = (what: (to: Showing) => void) => {
    if (showing !== null) what(showing)
    else if (waiting.length < mostWaiting) waiting.push(what)
  }
  const leaveAll = () => {
    over = true
    waiting = []
    showing?.end()
  }
  const store: HostStore = {
    subscribe: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    version: () => version,
    // What was shown last stays until the next is there.
    view: (size) => (showing ?? lastShown)?.view(size) ?? [],
    said: () => showing?.said() ?? null,
    // Ctrl-C is for now, never for the next screen.
    key: (name) => (showing === null && name === leaveKey ? leaveAll() : give((to) => to.key(name))),
    paste: (text) => give((to) => to.paste(text)),
  }
  // A terminal that has gone ends whatever else has it meanwhile; the other two are remembered until that has ended.
  const take = () => {
    if (instance !== null) return
    instance = isReadAloud() ? tellScreens(store) : mount(store)
    process.on('SIGHUP', leaveAll)
  }
  const free = async () => {
    if (instance === null) return
    process.off('SIGHUP', leaveAll)
    const gone = instance.waitUntilExit()
    instance.unmount()
    instance = null
    await gone
  }

  const signals = ['SIGTERM', 'SIGINT'] as const
  for (const signal of signals) process.on(signal, leaveAll)
  return {
    async show<S, A, V>(
      screen: Screen<S, A>,
      initial: S,
      obey: (ask: A, hands: Hands<S, V>) => void,
      begin: (hands: Hands<S, V>) => () => void = () => () => {},
    ) {
      if (over) return null
      take()
      let state: Framed<S> = framed(initial)
      return new Promise<V | null>((resolve) => {
        let rest = () => {}
        const fading = createFading(() => turn({ ...state, said: null, warned: false }))
        const turn = (to: Framed<S>) => {
          state = to
          fading.now(state.said)
          redraw()
        }
        const here: Showing = {
          view: (size) =>
            state.help
              ? helpRegion(screen, state.own, size)
              : screen.view(state.own, size, footOf(screen, state, size.columns)),
          said: () => state.said,
          key: (name) => go(pressScreen(screen, state, name)),
          paste: (text) => go(pasteScreen(screen, state, cleanText(text))),
          end: () => done(null),
        }
        const done = (left: V | null) => {
          if (showing !== here) return
          showing = null
          fading.stop()
          rest()
          resolve(left)
        }
        const hands: Hands<S, V> = {
          now: () => state.own,
          change: (to) => {
            if (showing === here) turn({ ...state, own: to(state.own) })
          },
          say: (text) => {
            if (showing === here) turn({ ...state, said: text })
          },
          leave: done,
        }
        const go = (pressed: Pressed<S, A>) => {
          turn(pressed.state)
          if (pressed.leave) leaveAll()
          else if (pressed.ask !== null) obey(pressed.ask, hands)
        }
        showing = here
        lastShown = here
        const early = waiting
        waiting = []
        for (const what of early) give(what)
        rest = begin(hands)
        redraw()
      })
    },
    release: free,
    over: () => over,
    async close() {
      leaveAll()
      await free()
      for (const signal of signals) process.off(signal, leaveAll)
    },
  }
}

type HostStore = TellStore & { version(): number }

function mount(store: HostStore) {
  const colours = process.stdout.hasColors?.(16) ?? false
  return render(<Shell store={store} colours={colours} />, {
    alternateScreen: true,
    incrementalRendering: true,
    maxFps: 60,
    exitOnCtrlC: false,
    interactive: true,
  })
}

/** The screen shown at present; the only place that takes keys and pastes, from the first screen to the last. */
function Shell({ store, colours }: { store: HostStore; colours: boolean }) {
  useSyncExternalStore(store.subscribe, store.version)
  const size = useWindowSize()
  useInput((input, flags) => {
    for (const name of screenKeys(input, flags)) store.key(name)
  })
  usePaste((text) => store.paste(text))
  return (
    <Box width={size.columns} height={Math.max(1, size.rows - 1)} flexShrink={0} overflow="hidden">
      {store.view(size).map((region) => (
        <Panel key={`${region.rect.x},${region.rect.y}`} region={region} colours={colours} />
      ))}
    </Box>
  )
}
