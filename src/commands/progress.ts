// How many of many files are done, as one line of a terminal that is written over and taken away at the end.
import { isReadAloud } from '../terminal/text/is-read-aloud.ts'

export type Progress = {
  show(done: number): void
  /** Takes the line away; done before anything else is printed. */
  clear(): void
}

const nothing: Progress = { show: () => {}, clear: () => {} }

/** On standard error, which leaves results in a pipe as they are; nothing for one file, without a terminal, or read aloud. */
export function openProgress(total: number): Progress {
  const { stderr } = process
  if (total < 2 || !stderr.isTTY || isReadAloud()) return nothing
  const clear = '\r\x1b[K'
  return {
    show: (done) => stderr.write(`${clear}${done} of ${total} files`),
    clear: () => stderr.write(clear),
  }
}
