// What the terminal hands over in one piece into key names: arrows, pages, Tab, Delete and control letters besides characters.
import { keyNames } from '../panels/keys.ts'

type Flags = Parameters<typeof keyNames>[1] &
  Partial<
    Record<
      'upArrow' | 'downArrow' | 'leftArrow' | 'rightArrow' | 'pageUp' | 'pageDown' | 'home' | 'end' | 'tab' | 'shift',
      boolean
    >
  >

const moves = [
  ['upArrow', 'up'],
  ['downArrow', 'down'],
  ['leftArrow', 'left'],
  ['rightArrow', 'right'],
  ['pageUp', 'page-up'],
  ['pageDown', 'page-down'],
  ['home', 'home'],
  ['end', 'end'],
  ['delete', 'delete'],
] as const

/** The keys of one piece, in order; a scanner's digits come with its Enter in one piece. */
export function screenKeys(input: string, flags: Flags): string[] {
  const move = moves.find(([flag]) => flags[flag])
  if (move) return [move[1]]
  if (flags.tab) return [flags.shift ? 'shift-tab' : 'tab']
  if (flags.ctrl && /^[a-z]$/.test(input)) return [`ctrl-${input}`]
  // Fast keys come in one piece, and then no flag tells the control keys among them.
  if ([...input].length > 1 && !flags.meta && !/^\[[A-Za-z]$/.test(input))
    return [...input].flatMap((char) => controlName(char) ?? keyNames(char, {}))
  return keyNames(input, flags)
}

function controlName(char: string): string | null {
  const code = char.charCodeAt(0)
  if (code === 9) return 'tab'
  if (code === 8 || code === 127) return 'backspace'
  return code >= 1 && code <= 26 && code !== 10 && code !== 13 ? `ctrl-${String.fromCharCode(96 + code)}` : null
}
