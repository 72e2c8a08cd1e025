// Lines onto standard output, made safe for a terminal.
import { escapeControls } from '../core/text/escape-controls.ts'

import { wrapWords } from '../terminal/text/text.ts'

/** Writes a sentence: on a terminal broken between words to its width, else as one line. */
export function printWords(text: string): void {
  const { isTTY, columns } = process.stdout
  for (const row of isTTY && columns > 0 ? wrapWords(text, columns) : [text]) print(row)
}

/** Writes `text` as one line. */
export function print(text: string): void {
  process.stdout.write(`${escapeControls(text)}\n`)
}
