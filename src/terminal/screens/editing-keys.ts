// The keys that edit a text as rows for the key tables of the screens that take one; most of them everybody tries without being told.
import { editKeys } from '../text/text-editor.ts'

export const moveKey = {
  keys: editKeys.move,
  quiet: true,
  shown: '← → Home End',
  short: 'cursor',
  does: 'Move the cursor; Ctrl-A to the beginning, Ctrl-E to the end.',
} as const

export const eraseKey = {
  keys: editKeys.erase,
  quiet: true,
  shown: '⌫ Del Ctrl-WUK',
  short: 'erase',
  does: 'Erase the character before the cursor, or on it; Ctrl-W the word, Ctrl-U all before it, Ctrl-K all after it.',
} as const

/** For a key that the row of another one tells of. */
export const unlisted = { quiet: true, shown: '', short: '', does: '' } as const
