// What the terminal hands over in one piece into the key names of the screens around the bench: arrows, pages, Tab and control letters besides characters.
import { keyNames } from '../keys.ts'

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
] as const

/** The keys of one piece, in order; a scanner's digits come with its Enter in one piece. */
export function screenKeys(input: string, flags: Flags): string[] {
  const move = moves.find(([flag]) => flags[flag])
  if (move) return [move[1]]
  if (flags.tab) return [flags.shift ? 'shift-tab' : 'tab']
  if (flags.ctrl && /^[a-z]$/.test(input)) return [`ctrl-${input}`]
  return keyNames(input, flags)
}
