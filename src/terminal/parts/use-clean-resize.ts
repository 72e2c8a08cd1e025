// A change of the window's size into one blank frame on a cleared screen, so that nothing of the old size is left.
import { useWindowSize } from 'ink'
import { useEffect, useRef, useState } from 'react'
import type { Size } from '../panels/layout.ts'

/** After the last change of a storm of them, ms. */
const settledMs = 150
/** Longer than the terminal's own frame, ms. */
const blankMs = 40
/** Erase the display, cursor home: ECMA-48 ED and CUP. Frames are written relative to where the last one ended, which a resize may move. */
const eraseAll = '\x1b[2J\x1b[H'

/** The window's size, and whether this frame has to be blank. */
export function useCleanResize(): { size: Size; blank: boolean } {
  const size = useWindowSize()
  const [blank, setBlank] = useState(false)
  const drawn = useRef(`${size.columns} ${size.rows}`)
  const now = `${size.columns} ${size.rows}`
  useEffect(() => {
    if (drawn.current === now) return
    let timer = setTimeout(() => {
      drawn.current = now
      process.stdout.write(eraseAll)
      setBlank(true)
      timer = setTimeout(() => setBlank(false), blankMs)
    }, settledMs)
    return () => {
      clearTimeout(timer)
      setBlank(false)
    }
  }, [now])
  return { size, blank }
}
