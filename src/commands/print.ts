// Lines onto standard output and standard error, made safe for a terminal; a watched thread has the main one print them.
import { escapeControls } from '../core/text/escape-controls.ts'
import { wrapWords } from '../terminal/text/text.ts'

/** One line as it is, a sentence that a terminal breaks between words, or what goes wrong. */
export type Printing = 'line' | 'words' | 'warning'

type Print = (as: Printing, text: string) => void

/** Prints, whichever thread it is for. */
export function printHere(as: Printing, text: string): void {
  own[as](text)
}

/** How this thread prints: itself, until it is told otherwise. */
let how: Print = printHere

/** From now on `take` gets what this thread would print. */
export function printTo(take: Print): void {
  how = take
}

const own: Record<Printing, (text: string) => void> = {
  line: (text) => process.stdout.write(`${escapeControls(text)}\n`),
  words(text) {
    const { isTTY, columns } = process.stdout
    for (const row of isTTY && columns > 0 ? wrapWords(text, columns) : [text]) own.line(row)
  },
  warning: (text) => process.stderr.write(text),
}

/** Writes `text` as one line. */
export const print = (text: string): void => how('line', text)

/** Writes a sentence: on a terminal broken between words to its width, else as one line. */
export const printWords = (text: string): void => how('words', text)

/** Writes what goes wrong with a part of the work while the rest goes on. */
export const warn = (text: string): void => how('warning', text)
