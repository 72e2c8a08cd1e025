// The store of a run into the live screen: draws its view at a fixed tick, turns keys into requests, gives the terminal back at the end.

import { Box, render, useInput, usePaste } from 'ink'
import { useEffect, useReducer, useRef, useSyncExternalStore } from 'react'
import { showCalm } from './calm-screen.ts'
import type { LiveExit, LiveOptions, LiveScreen } from './live-screen.ts'
import { initialScreen, pasteText, pressKey, type Request, type ScreenState } from './panels/screen-state.ts'
import type { TraceDots } from './panels/trace.ts'
import { viewOf } from './panels/view.ts'
import { createFading, type Fading } from './parts/fading.ts'
import { Panel } from './parts/panel.tsx'
import { useCleanResize } from './parts/use-clean-resize.ts'
import { screenKeys } from './screens/screen-keys.ts'
import { isBareConsole } from './text/console-signs.ts'
import { isReadAloud } from './text/is-read-aloud.ts'

/** Opens the live screen on this process's terminal, which has to be one. SIGTERM and SIGINT close it. */
export function showLive(options: LiveOptions): LiveScreen {
  if (isReadAloud()) return showCalm(options)
  let by: LiveExit['by'] = 'close'
  const leave = (how: LiveExit['by']) => {
    by = how
    instance.unmount()
  }
  const onSignal = () => leave('signal')
  // Before the first frame: a key typed until then would be echoed into it, and what is drawn afterwards is a row off.
  process.stdin.setRawMode?.(true)
  const instance = render(
    <App {...options} colours={process.stdout.hasColors?.(16) ?? false} onLeave={() => leave('key')} />,
    {
      alternateScreen: true,
      incrementalRendering: true,
      maxFps: 60,
      exitOnCtrlC: false,
      interactive: true,
    },
  )
  process.on('SIGTERM', onSignal)
  process.on('SIGINT', onSignal)
  const done = instance
    .waitUntilExit()
    .then((): LiveExit => ({ by }))
    .finally(() => {
      process.off('SIGTERM', onSignal)
      process.off('SIGINT', onSignal)
    })
  return { told: () => false, done, close: () => leave('close') }
}

type AppProps = LiveOptions & { colours: boolean; onLeave: () => void }

/** The whole screen. Its own state is the little that keys change; the run's comes from the store. */
export function App({
  part,
  title,
  simulated,
  speed,
  opening,
  store,
  recording,
  onMark,
  onTyped,
  onSound,
  onEnd,
  onRepeat,
  onPaper,
  onSerial,
  colours,
  onLeave,
}: AppProps) {
  const live = useSyncExternalStore(store.subscribe, store.shown)
  const { size, blank } = useCleanResize()
  const marks = onMark !== undefined
  const ends = onEnd !== undefined
  const rings = onSound !== undefined
  const serial = part.serial ?? ''

  // Several keys may come before the next drawing, so the state they change lives in a ref, not in a drawing's copy.
  const screen = useRef<ScreenState>(initialScreen)
  const [, redraw] = useReducer((n: number) => n + 1, 0)
  const fading = useRef<Fading | null>(null)
  useEffect(() => {
    const fades = createFading(() => {
      screen.current = { ...screen.current, said: null }
      redraw()
    })
    fading.current = fades
    return fades.stop
  }, [])
  const change = (state: ScreenState) => {
    screen.current = state
    fading.current?.now(state.said)
    redraw()
  }
  const ask = (request: Request) => {
    if (request.kind === 'mark') onMark?.(request.mark, request.text)
    else if (request.kind === 'typed') onTyped?.(request.order)
    else if (request.kind === 'acknowledge') for (const name of request.names) onMark?.('caution', name)
    else if (request.kind === 'sound') onSound?.(request.on)
    else if (request.kind === 'end') onEnd?.(request.reason)
    else {
      if (request.kind === 'repeat') onRepeat?.()
      if (request.kind === 'paper') onPaper?.(request.paper)
      if (request.kind === 'serial') onSerial?.(request.serial)
      onLeave()
    }
  }
  useInput((input, flags) => {
    for (const key of screenKeys(input, flags)) {
      const { state, request } = pressKey(screen.current, key, { live: store.shown(), marks, ends, rings, serial })
      change(state)
      if (request) ask(request)
    }
  })
  usePaste((text) => change(pasteText(screen.current, text)))

  const dots: TraceDots = isBareConsole() ? 'block' : 'braille'
  const shown = {
    live,
    part,
    title,
    simulated,
    recording,
    speed,
    opening,
    size,
    screen: screen.current,
    marks,
    ends,
    rings,
    dots,
    calm: false,
  }
  const regions = viewOf(shown)
  return (
    <Box width={size.columns} height={Math.max(1, size.rows - 1)} flexShrink={0} overflow="hidden">
      {(blank ? [] : regions).map((region) => (
        <Panel key={`${region.rect.x},${region.rect.y}`} region={region} colours={colours} />
      ))}
    </Box>
  )
}
