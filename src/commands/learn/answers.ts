// Questions in plain lines and the lines typed in answer: on a terminal, through a pipe, and under a screen reader alike.
import { createInterface } from 'node:readline'
import { escapeControls } from '../../core/text/escape-controls.ts'
import { Problem } from '../../errors.ts'
import { wrapWords } from '../../terminal/text/text.ts'

export type Answers = {
  /** The line typed in answer, without spaces around it. Rejects with a Problem where the input has ended. */
  ask(question: string): Promise<string>
  /** Resolves once Ctrl-C is pressed, or a signal comes. */
  stopped: Promise<void>
  /** Gives standard input back. */
  end(): void
}

/** Takes standard input until `end`. */
export function openAnswers(): Answers {
  const { stdin, stdout } = process
  const reader = createInterface({ input: stdin, output: stdout, terminal: stdin.isTTY && stdout.isTTY })
  const early: string[] = []
  let waiting: { take(line: string): void; fail(error: Problem): void } | null = null
  let ended = false
  const noMore = () => new Problem('usage', 'The input ended before all questions were answered. Nothing was written.')
  reader.on('line', (line) => {
    if (waiting === null) early.push(line)
    else waiting.take(line)
    waiting = null
  })
  reader.on('close', () => {
    ended = true
    waiting?.fail(noMore())
    waiting = null
  })
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const
  let stop = () => {}
  const stopped = new Promise<void>((done) => {
    stop = done
  })
  for (const signal of signals) process.on(signal, stop)
  reader.on('SIGINT', stop)
  return {
    stopped,
    async ask(question) {
      const safe = escapeControls(question)
      stdout.write(`${stdout.isTTY ? wrapWords(safe, stdout.columns).join('\n') : safe} `)
      const line = early.shift()
      // What comes through a pipe is not seen on the screen by itself.
      if (line !== undefined || !stdin.isTTY) stdout.write('\n')
      if (line !== undefined) return line.trim()
      if (ended) throw noMore()
      return (await new Promise<string>((take, fail) => (waiting = { take, fail }))).trim()
    },
    end() {
      for (const signal of signals) process.off(signal, stop)
      reader.close()
    },
  }
}
