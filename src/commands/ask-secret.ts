// A question on the terminal into what is typed there, which is not shown.

const [enter, lineFeed, ctrlC, ctrlD, ctrlU, backspace, rubout, escapeKey] = [
  '\r',
  '\n',
  '\x03',
  '\x04',
  '\x15',
  '\b',
  '\x7f',
  '\x1b',
]

/** What was typed up to Enter; null where there is no terminal to ask on, or where it was left with Ctrl-C. */
export function askSecret(question: string): Promise<string | null> {
  const { stdin, stderr } = process
  if (!stdin.isTTY) return Promise.resolve(null)
  const { promise, resolve } = Promise.withResolvers<string | null>()
  let typed: string[] = []
  const wasRaw = stdin.isRaw

  function hear(data: Buffer): void {
    const text = data.toString()
    // A key that sends a sequence, such as an arrow, is none of a passphrase.
    if (text.startsWith(escapeKey)) return
    for (const char of text) {
      if ([enter, lineFeed, ctrlC, ctrlD].includes(char)) {
        leave(char === enter || char === lineFeed ? typed.join('') : null)
        return
      }
      if (char === ctrlU) typed = []
      else if (char === backspace || char === rubout) typed.pop()
      else if (char >= ' ') typed.push(char)
    }
  }
  function leave(said: string | null): void {
    stdin.off('data', hear)
    stdin.setRawMode(wasRaw)
    stdin.pause()
    stderr.write('\n')
    resolve(said)
  }

  stderr.write(question)
  stdin.setRawMode(true)
  stdin.on('data', hear)
  stdin.resume()
  return promise
}
