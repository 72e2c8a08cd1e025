// The keys of this process's terminal into key names and pasted texts, where no screen is drawn.
import { emitKeypressEvents, type Key } from 'node:readline'
import { keyNames } from '../panels/keys.ts'

// Pasted text comes between two marks instead of as keys: private mode 2004, as xterm has it.
const pastes = { on: '\x1b[?2004h', off: '\x1b[?2004l' }

/** Names that differ from those of the terminal's decoder. */
const otherNames: Record<string, string> = { return: 'enter', pageup: 'page-up', pagedown: 'page-down' }
const ownNames = ['up', 'down', 'left', 'right', 'home', 'end', 'tab', 'delete', 'backspace', 'escape', 'enter']

/** Hands over each key and each paste until the function that it gives is called; then the terminal is as it was. */
export function readKeys(onKey: (name: string) => void, onPaste: (text: string) => void): () => void {
  const { stdin, stdout } = process
  let pasted: string | null = null
  const onKeypress = (input: string | undefined, key: Key) => {
    if (key.name === 'paste-start') pasted = ''
    else if (key.name === 'paste-end') {
      const text = pasted ?? ''
      pasted = null
      onPaste(text)
    } else if (pasted !== null) pasted += input ?? ''
    else for (const name of namesOf(input, key)) onKey(name)
  }
  // Before the first line is written: a key typed until then would be echoed into it.
  stdin.setRawMode?.(true)
  stdout.write(pastes.on)
  emitKeypressEvents(stdin)
  stdin.on('keypress', onKeypress)
  stdin.resume()
  return () => {
    stdin.off('keypress', onKeypress)
    stdin.setRawMode?.(false)
    stdin.pause()
    stdout.write(pastes.off)
  }
}

/** A key as the terminal's decoder names it, as the names of the key tables. Other keys have none. */
function namesOf(input: string | undefined, { name = '', ctrl, shift }: Key): string[] {
  if (name === 'tab' && shift) return ['shift-tab']
  const known = otherNames[name] ?? (ownNames.includes(name) ? name : null)
  if (known !== null) return [known]
  if (ctrl) return /^[a-z]$/.test(name) ? [`ctrl-${name}`] : []
  const text = input ?? ''
  return keyNames(text.startsWith('\x1b') ? '' : text, {})
}
