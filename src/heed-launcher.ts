// What the launcher passes on, and its own end, into signals of this process: the same on every system.

/** What the launcher sends where a signal to this process would end it at once, as on Windows. */
export type Passed = { signal: NodeJS.Signals }

/** Listens to the launcher where there is one. A launcher that is gone counts as SIGTERM. */
export function heedLauncher(): void {
  if (process.env['MAKEBREAK_RELAUNCHED'] !== '1' || !process.connected) return
  process.on('message', ({ signal }: Passed) => raise(signal))
  process.on('disconnect', () => raise('SIGTERM'))
  // A launcher that waits keeps nothing here alive.
  process.channel?.unref()
}

/** As if the system had sent it: whoever listens ends in its own way; where nobody does, this process ends. */
function raise(signal: NodeJS.Signals): void {
  if (process.listenerCount(signal) > 0) process.emit(signal)
  else process.kill(process.pid, signal)
}
